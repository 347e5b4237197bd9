/** How a patient is written to; the other pages of a patient are in {@code referral.web}. */
@NamedInterface("web")
@NullMarked
package org.earslot.patient.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
