package org.earslot.booking;

import java.util.Optional;
import org.earslot.clinic.Audited;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/** What a change of an appointment means for its referral. */
@Component
public class BookingConsequences {

    private final Referrals referrals;
    private final RedFlagTriage triage;
    private final ApplicationEventPublisher events;

    BookingConsequences(Referrals referrals, RedFlagTriage triage, ApplicationEventPublisher events) {
        this.referrals = referrals;
        this.triage = triage;
        this.events = events;
    }

    /** It waits for a new appointment; nothing is closed by itself. */
    public void bookAgain(Appointment appointment) {
        referral(appointment).filter(Referral::reopen).ifPresent(this::moved);
    }

    /** Sets the status of its referral. */
    public void setReferralStatus(Appointment appointment, ReferralStatus status) {
        referral(appointment)
                .filter(referral -> referral.status() != status)
                .ifPresent(referral -> setStatus(referral, status));
    }

    private void setStatus(Referral referral, ReferralStatus status) {
        referral.setStatus(status);
        moved(referral);
    }

    private void moved(Referral referral) {
        triage.holdOrLetGo(referral);
        referrals.save(referral);
        events.publishEvent(new Audited.Entry(
                        referral.clinicId(),
                        "referral-moved-on",
                        "referral",
                        referral.id().toString(),
                        referral.status().code())
                .about(referral.patientId()));
    }

    private Optional<Referral> referral(Appointment appointment) {
        return appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id));
    }
}
