package org.earslot.offers;

import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.Priority;
import org.earslot.referral.Referral;
import org.jspecify.annotations.Nullable;

/**
 * Someone who could take a place that came free.
 *
 * @param booked the later appointment that would be given up for it; null for one who has none
 */
public record WaitlistEntry(
        Patient patient, Referral referral, @Nullable Appointment booked) {

    Priority priority() {
        return referral.details().request().priority();
    }

    Method method() {
        return referral.details().request().methodPlanned();
    }

    Answer shortNotice() {
        return referral.details().request().shortNotice();
    }

    @Nullable
    UUID bookedId() {
        return booked == null ? null : booked.id();
    }
}
