package org.earslot.demo;

import java.io.IOException;
import java.io.InputStream;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** The demo clinic's set-up as {@code seed-demo/clinic.json} says it. */
record SeedClinic(
        String name,
        String timeZone,
        LocalDate anchorDate,
        List<SeedPractitioner> practitioners,
        List<SeedRoom> rooms,
        List<SeedUnit> units,
        List<SeedSets> instrumentSets,
        List<SeedStock> stock,
        List<SeedSession> sessions,
        SeedPolicy policy,
        Map<String, Integer> turnaroundMinutes,
        List<SeedVisitKind> otherVisits) {

    record SeedPractitioner(
            String name, Set<String> methods, @Nullable String dominantHand) {}

    record SeedRoom(String name) {}

    record SeedUnit(
            String name, @Nullable String method, @Nullable String room) {}

    record SeedSets(String name, String method, int count, int cycleMinutes, int testMinutes) {}

    record SeedStock(String name, int least) {}

    record SeedSession(
            DayOfWeek weekday,
            String practitioner,
            String room,
            LocalTime from,
            LocalTime to,
            @Nullable Pause pause) {

        TimeSpan span() {
            return new TimeSpan(from, to);
        }

        @Nullable
        TimeSpan rest() {
            return pause == null ? null : new TimeSpan(pause.from(), pause.to());
        }
    }

    record Pause(LocalTime from, LocalTime to) {}

    record SeedPolicy(
            int gridMinutes,
            double acceptedOverrunShare,
            double acceptedOvertimeShare,
            int leastSlotMinutes,
            int mostSlotMinutes,
            int waitLimitMinutes,
            int earlyAllowanceMinutes) {}

    record SeedVisitKind(String name, int minutes) {}

    static SeedClinic read() throws IOException {
        JsonMapper mapper = JsonMapper.builder()
                .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
                .build();
        try (InputStream in = SeedClinic.class.getResourceAsStream("/seed-demo/clinic.json")) {
            return mapper.readValue(in, SeedClinic.class);
        }
    }

    PolicyTerms terms() {
        return new PolicyTerms(
                policy.gridMinutes(),
                policy.acceptedOverrunShare(),
                policy.acceptedOvertimeShare(),
                policy.leastSlotMinutes(),
                policy.mostSlotMinutes(),
                policy.waitLimitMinutes(),
                policy.earlyAllowanceMinutes(),
                turnaroundMinutes.get(Method.IRRIGATION.code()),
                turnaroundMinutes.get(Method.MICROSUCTION.code()),
                turnaroundMinutes.get(Method.MANUAL_REMOVAL.code()));
    }
}
