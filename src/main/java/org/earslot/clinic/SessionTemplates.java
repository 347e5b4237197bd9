package org.earslot.clinic;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Where visits of each kind are best booked in a weekly session; the latest template is in force until withdrawn. */
@Service
public class SessionTemplates {

    private final StoredTemplates stored;
    private final WeeklySessions weekly;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    SessionTemplates(
            StoredTemplates stored, WeeklySessions weekly, ClinicClock clock, ApplicationEventPublisher events) {
        this.stored = stored;
        this.weekly = weekly;
        this.clock = clock;
        this.events = events;
    }

    /** The template in force. */
    @Transactional(readOnly = true)
    public Optional<SessionTemplate> of(ClinicId clinicId, UUID weeklySessionId) {
        return stored
                .findByClinicIdAndWeeklySessionIdAndWithdrawnAtIsNullOrderByMadeAtDesc(clinicId, weeklySessionId)
                .stream()
                .findFirst();
    }

    /** Puts a template in force; false if the clinic has no such session. */
    @Transactional
    public boolean apply(ClinicId clinicId, UUID weeklySessionId, List<SessionTemplate.Place> places, String who) {
        if (weekly.findByClinicIdAndId(clinicId, weeklySessionId).isEmpty()) {
            return false;
        }
        SessionTemplate made = stored.save(new SessionTemplate(clinicId, weeklySessionId, places, who, clock.now()));
        announce(made, clinicId, "session-template-applied");
        return true;
    }

    /** Withdraws a template, so that the one before is in force again, or none; false if there is none such. */
    @Transactional
    public boolean withdraw(ClinicId clinicId, UUID templateId) {
        Optional<SessionTemplate> known = stored.findByClinicIdAndId(clinicId, templateId);
        known.ifPresent(template -> {
            template.withdraw(clock.now());
            announce(template, clinicId, "session-template-withdrawn");
        });
        return known.isPresent();
    }

    private void announce(SessionTemplate template, ClinicId clinicId, String action) {
        events.publishEvent(new Audited.Entry(
                clinicId, action, "set-up", template.weeklySessionId().toString(), null));
    }
}
