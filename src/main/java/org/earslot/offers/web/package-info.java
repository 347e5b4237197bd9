/** Pages and interface for programs of {@code offers}. */
@NamedInterface("web")
@NullMarked
package org.earslot.offers.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
