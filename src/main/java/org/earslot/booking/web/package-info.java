/** Pages and interface for programs of {@code booking}. */
@NamedInterface("web")
@NullMarked
package org.earslot.booking.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
