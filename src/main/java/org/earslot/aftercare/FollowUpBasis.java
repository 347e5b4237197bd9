package org.earslot.aftercare;

import java.util.Optional;
import org.earslot.booking.Appointment;
import org.earslot.booking.FoundCautions;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Component;

/** What a follow-up rests on: the visit of an appointment, and what was known and found by then. */
@Component
class FollowUpBasis {

    private final Visits visits;
    private final Referrals referrals;
    private final FoundCautions found;
    private final ClinicClock clock;

    FollowUpBasis(Visits visits, Referrals referrals, FoundCautions found, ClinicClock clock) {
        this.visits = visits;
        this.referrals = referrals;
        this.found = found;
        this.clock = clock;
    }

    Optional<Visit> visit(Appointment appointment) {
        return appointment.visitId().flatMap(id -> visits.findByClinicIdAndId(appointment.clinicId(), id));
    }

    FollowUpDetails details(Appointment appointment, Visit visit) {
        ClinicId clinicId = appointment.clinicId();
        ReferralDetails before = appointment
                .referralId()
                .flatMap(id -> referrals.findByClinicIdAndId(clinicId, id))
                .map(Referral::details)
                .orElse(null);
        return new FollowUpDetails(visit, before, found.known(appointment), clock.today(clinicId));
    }
}
