/** Setting the clinic up: practitioners, rooms, sessions and terms in one place. */
@NamedInterface("setup")
@NullMarked
package org.earslot.clinic.setup;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
