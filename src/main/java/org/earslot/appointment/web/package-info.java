/** The pages and presses of one appointment. */
@NullMarked
package org.earslot.appointment.web;

import org.jspecify.annotations.NullMarked;
