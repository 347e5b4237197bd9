package org.earslot.account.web;

import java.time.LocalDateTime;
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
import java.util.stream.IntStream;
import org.earslot.account.AuditEntry;
import org.earslot.account.AuditTrail;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.PatientNames;
import org.earslot.clinic.RecordNames;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/** Lines of the audit trail as they are read: by the clinic's clock, with the patients' names. */
@Component
class AuditLines {

    /** Lines that concern more patients say how many. */
    private static final int NAMED = 3;

    private final AuditTrail trail;
    private final PatientNames names;
    private final List<RecordNames> records;
    private final CurrentClinic clinic;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    AuditLines(
            AuditTrail trail,
            PatientNames names,
            List<RecordNames> records,
            CurrentClinic clinic,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.trail = trail;
        this.names = names;
        this.records = records;
        this.clinic = clinic;
        this.clock = clock;
        this.events = events;
    }

    /** A patient a line concerns. */
    public record Named(UUID id, String name) {}

    /**
     * One line as it is read, or one person's repeated views of the same records within a day.
     *
     * @param from when the first of them was, the time of day; {@code to} when the last was
     * @param name of the record, where it has one that the audit trail may show; else empty
     */
    public record Line(
            String day,
            String from,
            String to,
            int times,
            String who,
            String action,
            String kind,
            String subject,
            String name,
            String detail,
            List<Named> patients) {

        List<String> cells() {
            return List.of(day + " " + to, who, action, kind, subject, detail);
        }

        private boolean view() {
            return action.equals("record-viewed");
        }

        private boolean repeats(Line other) {
            return view()
                    && List.of(day, who, action, kind, subject, detail, patients)
                            .equals(List.of(
                                    other.day,
                                    other.who,
                                    other.action,
                                    other.kind,
                                    other.subject,
                                    other.detail,
                                    other.patients));
        }

        private Line with(Line earlier) {
            return new Line(
                    day, earlier.from, to, times + earlier.times, who, action, kind, subject, name, detail, patients);
        }
    }

    /** The lines with the names of their patients; that these were shown is recorded. */
    List<Line> named(List<AuditEntry> entries) {
        Map<Long, Set<UUID>> concerned = trail.patients(entries);
        Set<UUID> shown = new HashSet<>();
        concerned.values().stream().filter(ids -> ids.size() <= NAMED).forEach(shown::addAll);
        Map<UUID, String> known = names.of(clinic.id(), shown);
        viewed(known.keySet());
        Map<String, String> named = new HashMap<>();
        records.forEach(room -> named.putAll(room.of(clinic.id())));
        return folded(entries.stream()
                .map(entry -> line(
                        entry,
                        named.getOrDefault(entry.subjectId().orElse(""), ""),
                        named(concerned.getOrDefault(entry.id(), Set.of()), known)))
                .toList());
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
        return line(entry, "", List.of());
    }

    /** The lines of one patient's record, without names. */
    List<Line> ofOnePatient(List<AuditEntry> entries) {
        return folded(entries.stream().map(this::bare).toList());
    }

    /**
     * Repeated views in one line each, where the last of them stands.
     *
     *
     * @param lines latest first
     */
    private static List<Line> folded(List<Line> lines) {
        List<Line> folded = new ArrayList<>();
        for (Line line : lines) {
            int same = IntStream.range(0, folded.size())
                    .filter(i -> folded.get(i).repeats(line))
                    .findFirst()
                    .orElse(-1);
            if (same < 0) {
                folded.add(line);
            } else {
                folded.set(same, folded.get(same).with(line));
            }
        }
        return folded;
    }

    /** The trail was read about these patients. */
    void viewed(Collection<UUID> patients) {
        if (!patients.isEmpty()) {
            events.publishEvent(Audited.viewed(clinic.id(), "audit", patients));
        }
    }

    private Line line(AuditEntry entry, String name, List<Named> patients) {
        LocalDateTime at = clock.local(clinic.id(), entry.at()).truncatedTo(ChronoUnit.SECONDS);
        String time = DateTimeFormatter.ISO_LOCAL_TIME.format(at);
        return new Line(
                at.toLocalDate().toString(),
                time,
                time,
                1,
                entry.who(),
                entry.action(),
                entry.subjectKind(),
                entry.subjectId().orElse(""),
                name,
                entry.detail().orElse(""),
                patients);
    }
}
