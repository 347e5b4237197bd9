/** Files that go in line by line: runs in the background, their progress, and every rejected line with its reason. */
@NamedInterface("imports")
@NullMarked
package org.earslot.exchange.imports;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
