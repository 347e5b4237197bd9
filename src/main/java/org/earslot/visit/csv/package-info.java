/** Lines of CSV in and out, as RFC 4180 has it: bounded in memory, forgiving to the lines beside a broken one. */
@NamedInterface("csv")
@NullMarked
package org.earslot.visit.csv;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
