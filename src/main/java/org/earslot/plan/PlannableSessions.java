package org.earslot.plan;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** The weekly sessions for which a plan can be made: those not over yet. */
@Component
public class PlannableSessions {

    private final WeeklySessions weekly;
    private final Practitioners practitioners;
    private final ClinicClock clock;

    PlannableSessions(WeeklySessions weekly, Practitioners practitioners, ClinicClock clock) {
        this.weekly = weekly;
        this.practitioners = practitioners;
        this.clock = clock;
    }

    /** All of them, by day and start. */
    public List<WeeklySession> of(ClinicId clinicId) {
        return weekly.findByClinicId(clinicId).stream()
                .filter(session -> session.validTo()
                        .map(last -> !last.isBefore(clock.today(clinicId)))
                        .orElse(true))
                .sorted(Comparator.comparing(WeeklySession::day)
                        .thenComparing(session -> session.span().from()))
                .toList();
    }

    /** The one with that id; the first of all if {@code id} is null. */
    public Optional<WeeklySession> find(ClinicId clinicId, @Nullable UUID id) {
        return of(clinicId).stream()
                .filter(session -> id == null || session.id().equals(id))
                .findFirst();
    }

    /** Who holds sessions, by id. */
    public Map<UUID, Practitioner> practitioners(ClinicId clinicId) {
        return practitioners.findByClinicIdOrderByName(clinicId).stream()
                .collect(Collectors.toMap(Practitioner::id, Function.identity()));
    }
}
