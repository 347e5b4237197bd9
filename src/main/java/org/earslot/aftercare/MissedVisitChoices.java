package org.earslot.aftercare;

import java.util.Optional;
import java.util.UUID;
import org.earslot.aftercare.MissedVisits.Missed;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.referral.Intake;
import org.earslot.referral.ReferralStatus;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What a person decides about a missed visit, once each. */
@Service
public class MissedVisitChoices {

    private final MissedVisits missed;
    private final MissedDecisions decisions;
    private final Intake intake;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    MissedVisitChoices(
            MissedVisits missed,
            MissedDecisions decisions,
            Intake intake,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.missed = missed;
        this.decisions = decisions;
        this.intake = intake;
        this.clock = clock;
        this.events = events;
    }

    /** Why nothing was decided. */
    public enum NotDecided {
        NOT_LISTED,
        FOR_A_CLINICIAN,
        NOT_TO_CLOSE
    }

    /**
     * A person decides.
     *
     * @param clinician whether a practitioner decides
     * @return why not; empty if it is done
     */
    @Transactional
    public Optional<NotDecided> decide(
            ClinicId clinicId,
            UUID appointmentId,
            MissedChoice choice,
            @Nullable String note,
            boolean clinician,
            String who) {
        Optional<Missed> found = missed.open(clinicId).stream()
                .filter(each -> each.appointment().id().equals(appointmentId))
                .findFirst();
        if (found.isEmpty()) {
            return Optional.of(NotDecided.NOT_LISTED);
        }
        Missed one = found.get();
        if (one.notBrought() && !clinician) {
            return Optional.of(NotDecided.FOR_A_CLINICIAN);
        }
        if (choice == MissedChoice.CLOSE
                && intake.moveOn(one.referral(), ReferralStatus.CLOSED).isPresent()) {
            return Optional.of(NotDecided.NOT_TO_CLOSE);
        }
        decisions.save(new MissedDecision(clinicId, one, choice, note, who, clock.now()));
        events.publishEvent(new Audited.Entry(
                clinicId,
                "missed-visit-decided",
                "referral",
                one.referral().id().toString(),
                choice.code()));
        return Optional.empty();
    }
}
