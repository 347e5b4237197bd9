package org.earslot.aftercare;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.ear.HearingChange;
import org.earslot.ear.NextStep;
import org.earslot.referral.Priority;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Referrals to other services, for visits whose practitioner decided to refer on. */
@Service
public class OnwardReferrals {

    private final StoredOnwardReferrals stored;
    private final Visits visits;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    OnwardReferrals(StoredOnwardReferrals stored, Visits visits, ClinicClock clock, ApplicationEventPublisher events) {
        this.stored = stored;
        this.visits = visits;
        this.clock = clock;
        this.events = events;
    }

    /**
     * What a letter to the next service says.
     *
     * @param to null while not known
     */
    public record Details(
            @Nullable String to, @Nullable String reason, Priority priority, HearingChange hearing, Answer told) {}

    @Transactional(readOnly = true)
    public Optional<Details> of(ClinicId clinicId, UUID visitId) {
        return stored.findByClinicIdAndVisitId(clinicId, visitId).map(OnwardReferral::details);
    }

    /** Holds the visit until the transaction ends, so that two who record its onward referral come one after the other. */
    @Transactional
    public void hold(ClinicId clinicId, UUID visitId) {
        visits.hold(clinicId, visitId);
    }

    /** Records it; false if the practitioner has not decided to refer on. */
    @Transactional
    public boolean record(ClinicId clinicId, UUID visitId, Details details, String who) {
        Optional<Visit> visit = visits.findByClinicIdAndId(clinicId, visitId)
                .filter(one -> one.nextStep().equals(Optional.of(NextStep.REFER_ON)));
        if (visit.isEmpty()) {
            return false;
        }
        stored.findByClinicIdAndVisitId(clinicId, visitId)
                .ifPresentOrElse(
                        known -> known.say(details, who, clock.now()),
                        () -> stored.save(new OnwardReferral(clinicId, visitId, details, who, clock.now())));
        events.publishEvent(new Audited.Entry(
                clinicId,
                "referred-on",
                "visit",
                visitId.toString(),
                details.priority().code()));
        return true;
    }
}
