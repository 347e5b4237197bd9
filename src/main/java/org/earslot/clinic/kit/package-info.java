/** Instruments, sets and their cycles, portable units, stock. */
@NamedInterface("kit")
@NullMarked
package org.earslot.clinic.kit;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
