/** The page of cover, and what requests for appointments and answers look like. */
@NamedInterface("web")
@NullMarked
package org.earslot.booking.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
