package org.earslot.aftercare;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import org.earslot.aftercare.FollowUps.Next;
import org.earslot.booking.Appointment;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Method;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.visit.Visit;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Makes the referral for a follow-up that the practitioner has decided on. */
@Service
public class FollowUpReferrals {

    private final FollowUps followUps;
    private final FollowUpBasis basis;
    private final Referrals referrals;
    private final Intake intake;
    private final StoredFollowUps stored;
    private final ClinicClock clock;

    FollowUpReferrals(
            FollowUps followUps,
            FollowUpBasis basis,
            Referrals referrals,
            Intake intake,
            StoredFollowUps stored,
            ClinicClock clock) {
        this.followUps = followUps;
        this.basis = basis;
        this.referrals = referrals;
        this.intake = intake;
        this.stored = stored;
        this.clock = clock;
    }

    /** Whether softener may be used before the next try. */
    @Transactional(readOnly = true)
    public boolean softenerMayBeUsed(Appointment appointment) {
        return followUps
                .next(appointment)
                .map(next -> next.softenerDays() != null)
                .orElse(true);
    }

    /**
     * Makes the referral that follows, of which the cautions are to be asked again; once a visit. Empty if there is nothing
     * to follow, the practitioner has not decided that the patient comes again, the patient has died, or the method is none
     * of those on offer.
     *
     * @param nothingNew whether a practitioner asked every red flag again today and all answers are no; if not, they are
     *     still to be asked
     */
    @Transactional
    public Optional<Referral> make(
            Appointment appointment, Method method, int softenerDays, boolean nothingNew, String who) {
        ClinicId clinicId = appointment.clinicId();
        Optional<Next> next = followUps.next(appointment).filter(one -> one.offers(method));
        if (next.isEmpty()) {
            return Optional.empty();
        }
        UUID made = next.get().made();
        if (made != null) {
            return referrals.findByClinicIdAndId(clinicId, made);
        }
        Visit visit = basis.visit(appointment).orElseThrow();
        LocalDate notBefore = softenerDays == 0 ? null : clock.today(clinicId).plusDays(softenerDays);
        ReferralDetails told =
                basis.details(appointment, visit).by(method, next.get().ears(), notBefore);
        ReferralDetails said = told.with(told.cautions().toAsk())
                .with(nothingNew ? new RedFlagAnswers(RedFlag.noneOfThese(), null) : RedFlagAnswers.NOT_ASKED);
        Referral referral = intake.takeIn(clinicId, visit.patientRef(), said, new Taker(who, null));
        stored.save(new FollowUp(clinicId, visit.id(), referral.id()));
        return Optional.of(referral);
    }
}
