/** The pages and presses of one appointment: clock, findings, kit, letters, gaps; and its part of the interface for programs. */
@NullMarked
package org.earslot.appointment.web;

import org.jspecify.annotations.NullMarked;
