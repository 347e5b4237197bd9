/** Pages of the day: its table and picture, fit-ins, closing, the stream of changes, presses made without a connection. */
@NamedInterface("web")
@NullMarked
package org.earslot.day.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
