package org.earslot.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.TemporalAdjusters;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** What the writer of the demo files needs of {@code seed-demo/clinic.json}. */
record ClinicFile(
        LocalDate anchorDate,
        List<Practitioner> practitioners,
        List<Room> rooms,
        List<Session> sessions,
        Policy policy,
        Map<String, Integer> turnaroundMinutes,
        List<Referrer> referrers) {

    record Practitioner(String name, List<String> methods, String dominantHand) {}

    record Room(String name) {}

    record Span(LocalTime from, LocalTime to) {}

    record Session(
            DayOfWeek weekday,
            String practitioner,
            String room,
            LocalTime from,
            LocalTime to,
            @Nullable Span pause) {

        boolean morning() {
            return from.isBefore(LocalTime.NOON);
        }

        /** The stretches in which patients are booked: the session without its break. */
        List<Span> stretches() {
            return pause == null
                    ? List.of(new Span(from, to))
                    : List.of(new Span(from, pause.from()), new Span(pause.to(), to));
        }
    }

    record Policy(int earlyAllowanceMinutes) {}

    record Referrer(String name, String kind, String practice) {}

    static ClinicFile read(Path folder) throws IOException {
        JsonMapper json = JsonMapper.builder()
                .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
                .build();
        return json.readValue(Files.readString(folder.resolve("clinic.json")), ClinicFile.class);
    }

    LocalDate anchorMonday() {
        return anchorDate.with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY));
    }

    Practitioner practitioner(String name) {
        return practitioners.stream()
                .filter(one -> one.name().equals(name))
                .findFirst()
                .orElseThrow();
    }
}
