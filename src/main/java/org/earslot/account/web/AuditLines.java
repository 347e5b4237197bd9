package org.earslot.account.web;

import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.earslot.account.AuditEntry;
import org.earslot.account.AuditTrail;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.PatientNames;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/** Lines of the audit trail as they are read: by the clinic's clock, with the patients' names. */
@Component
class AuditLines {

    /** Lines that concern more patients say how many. */
    private static final int NAMED = 3;

    private final AuditTrail trail;
    private final PatientNames names;
    private final CurrentClinic clinic;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    AuditLines(
            AuditTrail trail,
            PatientNames names,
            CurrentClinic clinic,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.trail = trail;
        this.names = names;
        this.clinic = clinic;
        this.clock = clock;
        this.events = events;
    }

    /** A patient a line concerns. */
    public record Named(UUID id, String name) {}

    /** One line as it is read. */
    public record Line(
            String at, String who, String action, String kind, String subject, String detail, List<Named> patients) {

        List<String> cells() {
            return List.of(at, who, action, kind, subject, detail);
        }
    }

    /** Lines of one person's views of the same place within a day, folded into one; every change is one of its own. */
    public record Folded(String day, String from, String to, int times, String who, String action, String detail) {}

    /** The lines with the names of their patients; that these were shown is recorded. */
    List<Line> named(List<AuditEntry> entries) {
        Map<Long, Set<UUID>> concerned = trail.patients(entries);
        Set<UUID> shown = new HashSet<>();
        concerned.values().stream().filter(ids -> ids.size() <= NAMED).forEach(shown::addAll);
        Map<UUID, String> known = names.of(clinic.id(), shown);
        viewed(known.keySet());
        return entries.stream()
                .map(entry -> line(entry, named(concerned.getOrDefault(entry.id(), Set.of()), known)))
                .toList();
    }

    private static List<Named> named(Set<UUID> patients, Map<UUID, String> known) {
        return patients.size() > NAMED
                ? List.of()
                : patients.stream()
                        .filter(known::containsKey)
                        .map(id -> new Named(id, known.get(id)))
                        .toList();
    }

    /** A line without names, as it is exported. */
    Line bare(AuditEntry entry) {
        return line(entry, List.of());
    }

    /** Repeated views in one line each, latest first. */
    List<Folded> folded(List<AuditEntry> entries) {
        Map<List<Object>, Folded> folded = new HashMap<>();
        List<List<Object>> order = new ArrayList<>();
        for (AuditEntry entry : entries) {
            Line line = bare(entry);
            String day = line.at().substring(0, 10);
            String time = line.at().substring(11);
            boolean view = line.action().equals("record-viewed");
            List<Object> key = List.of(day, line.who(), line.action(), line.detail(), view ? 0L : entry.id());
            Folded before = folded.get(key);
            if (before == null) {
                order.add(key);
                folded.put(key, new Folded(day, time, time, 1, line.who(), line.action(), line.detail()));
            } else {
                folded.put(
                        key,
                        new Folded(
                                day, time, before.to(), before.times() + 1, line.who(), line.action(), line.detail()));
            }
        }
        return order.stream().map(folded::get).toList();
    }

    /** The trail was read about these patients. */
    void viewed(Collection<UUID> patients) {
        if (!patients.isEmpty()) {
            events.publishEvent(Audited.viewed(clinic.id(), "audit", patients));
        }
    }

    private Line line(AuditEntry entry, List<Named> patients) {
        String at = clock.local(clinic.id(), entry.at())
                .truncatedTo(ChronoUnit.SECONDS)
                .format(DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss"));
        return new Line(
                at,
                entry.who(),
                entry.action(),
                entry.subjectKind(),
                entry.subjectId().orElse(""),
                entry.detail().orElse(""),
                patients);
    }
}
