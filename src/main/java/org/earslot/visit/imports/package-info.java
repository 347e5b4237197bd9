/** Files that go in line by line: runs in the background, their progress, and every rejected line kept with its reason. */
@NamedInterface("imports")
@NullMarked
package org.earslot.visit.imports;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
