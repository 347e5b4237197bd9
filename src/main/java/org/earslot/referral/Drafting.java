package org.earslot.referral;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Keeps a referral form while it is filled in, so that a call that breaks off loses nothing. */
@Service
public class Drafting {

    /** More characters than a form can hold rightly. */
    public static final int LONGEST = 20_000;

    private final ReferralDrafts drafts;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Drafting(ReferralDrafts drafts, ClinicClock clock, ApplicationEventPublisher events) {
        this.drafts = drafts;
        this.clock = clock;
        this.events = events;
    }

    /**
     * Keeps what is typed; empty where it is too long.
     *
     * @param id of the form that is filled in; the draft has the same
     */
    @Transactional
    public Optional<ReferralDraft> keep(ClinicId clinicId, UUID id, Map<String, List<String>> typed, String who) {
        int length = typed.values().stream()
                .flatMap(List::stream)
                .mapToInt(String::length)
                .sum();
        if (length > LONGEST) {
            return Optional.empty();
        }
        Optional<ReferralDraft> known = drafts.findByClinicIdAndId(clinicId, id);
        known.ifPresent(draft -> draft.keep(typed, clock.now()));
        if (known.isPresent()) {
            return known;
        }
        ReferralDraft begun = drafts.save(new ReferralDraft(id, clinicId, typed, who, clock.now()));
        announce(clinicId, "referral-begun", begun.id());
        return Optional.of(begun);
    }

    @Transactional(readOnly = true)
    public Optional<ReferralDraft> find(ClinicId clinicId, UUID id) {
        return drafts.findByClinicIdAndId(clinicId, id);
    }

    /** Every draft of the clinic, the one saved last first. */
    @Transactional(readOnly = true)
    public List<ReferralDraft> all(ClinicId clinicId) {
        return drafts.findByClinicIdOrderBySavedAtDesc(clinicId);
    }

    /** The draft has become a referral, or is thrown away; false where there is none. */
    @Transactional
    public boolean drop(ClinicId clinicId, UUID id) {
        Optional<ReferralDraft> known = drafts.findByClinicIdAndId(clinicId, id);
        known.ifPresent(draft -> {
            drafts.delete(draft);
            announce(clinicId, "referral-draft-dropped", id);
        });
        return known.isPresent();
    }

    private void announce(ClinicId clinicId, String action, UUID id) {
        events.publishEvent(new Audited.Entry(clinicId, action, "referral-draft", id.toString(), null));
    }
}
