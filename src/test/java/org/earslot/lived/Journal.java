package org.earslot.lived;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.earslot.lived.Clinic.Listed;
import tools.jackson.databind.JsonNode;

/** Everything that the program has acknowledged about each appointment: all of it must still be there later. */
final class Journal {

    private record Span(LocalDateTime from, LocalDateTime to) {}

    private static final class Entry {
        private final Map<String, Span> times = new LinkedHashMap<>();
        private LocalDate date;
        private String status = "";

        private Entry(LocalDate date) {
            this.date = date;
        }
    }

    private final Map<String, Entry> entries = new LinkedHashMap<>();

    /** It is in the diary of that date. */
    void isBooked(String appointment, LocalDate date) {
        entries.computeIfAbsent(appointment, any -> new Entry(date)).date = date;
    }

    /** {@code time} (arrived, calledIn, finished, roomReady) was taken between these moments. */
    void happened(String appointment, LocalDate date, String time, LocalDateTime from, LocalDateTime to) {
        entries.computeIfAbsent(appointment, any -> new Entry(date))
                .times
                .putIfAbsent(time, new Span(from.truncatedTo(ChronoUnit.MINUTES), to));
    }

    /** Its status is this and no other from now on. */
    void hasStatus(String appointment, LocalDate date, String status) {
        entries.computeIfAbsent(appointment, any -> new Entry(date)).status = status;
    }

    boolean has(String appointment, String time) {
        Entry entry = entries.get(appointment);
        return entry != null && entry.times.containsKey(time);
    }

    boolean isOff(String appointment) {
        Entry entry = entries.get(appointment);
        return entry != null && !entry.status.isEmpty();
    }

    /** Fails where anything acknowledged of that day is missing or different. */
    void holds(LocalDate date, List<Listed> visits, Program program) {
        entries.forEach((id, entry) -> {
            if (!entry.date.equals(date)) {
                return;
            }
            Listed visit = visits.stream()
                    .filter(one -> one.id().equals(id))
                    .findFirst()
                    .orElseGet(() -> asked(program, id));
            if (!entry.status.isEmpty()) {
                assertThat(visit.text("status")).as("status of %s", id).isEqualTo(entry.status);
            }
            entry.times.forEach((time, span) -> assertThat(visit.text(time))
                    .as("%s of %s on %s: %s", time, id, date, visit.said())
                    .isNotEmpty()
                    .satisfies(said -> assertThat(LocalDateTime.parse(said)).isBetween(span.from, span.to)));
        });
    }

    private static Listed asked(Program program, String id) {
        JsonNode said = program.get("/appointments/" + id);
        return new Listed("", id, said);
    }
}
