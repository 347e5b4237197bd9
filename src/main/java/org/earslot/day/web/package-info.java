/** Pages and interface for programs of {@code day}. */
@NamedInterface("web")
@NullMarked
package org.earslot.day.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
