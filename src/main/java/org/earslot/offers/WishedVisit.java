package org.earslot.offers;

import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.ear.Method;
import org.earslot.patient.PatientDetails;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;

/**
 * The visit that a place is wished for.
 *
 * @param moved the appointment that is to be moved; null for none
 * @param referral what was asked for; null for another kind of visit
 * @param person what is known of the patient; empty if nobody is known
 */
record WishedVisit(@Nullable Appointment moved, @Nullable Referral referral, Optional<PatientDetails> person) {

    /** What the referral says; null without one. */
    @Nullable
    ReferralDetails said() {
        return referral == null ? null : referral.details();
    }

    /** The method of the removal of wax; null for another kind of visit. */
    @Nullable
    Method method() {
        if (referral != null) {
            return referral.details().request().methodPlanned();
        }
        return moved == null ? null : moved.planned().method();
    }

    /** The appointment that is to be moved. */
    @Nullable
    UUID movedId() {
        return moved == null ? null : moved.id();
    }
}
