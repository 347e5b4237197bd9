package org.earslot.daysheet.web;

import io.swagger.v3.oas.annotations.media.Schema;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedules;
import org.earslot.day.SessionProjection.Expected;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RestController;

/** A day and how it is expected to run, for programs. */
@RestController
class DayApi {

    private final DaySchedules diaries;
    private final AskedDate dates;
    private final CurrentClinic current;
    private final ApplicationEventPublisher events;

    DayApi(DaySchedules diaries, AskedDate dates, CurrentClinic current, ApplicationEventPublisher events) {
        this.events = events;
        this.diaries = diaries;
        this.dates = dates;
        this.current = current;
    }

    /** @param projectedStart its 10, 50 and 90 % points: the probability to the time */
    record Place(
            UUID appointment,
            @Nullable String patientRef,
            String status,
            LocalDateTime bookedStart,
            int slotMinutes,
            boolean fitIn,
            @Nullable String method,
            @Nullable String ears,
            @Nullable String otherKind,
            @Nullable Map<String, LocalDateTime> projectedStart,
            @Nullable Double waitMinutes,
            @Nullable Double longWaitRisk,
            @Nullable Double overrunRisk,
            @Nullable LocalDateTime arrived,
            @Nullable LocalDateTime calledIn,
            @Nullable LocalDateTime finished,
            @Nullable LocalDateTime roomReady,
            boolean timesPlausible) {}

    @Schema(name = "DaySession")
    record Session(
            String session,
            String room,
            LocalTime from,
            LocalTime to,
            double overtimeRisk,
            double overtimeMinutes,
            double idleMinutes) {}

    record PractitionerDay(String practitioner, List<Session> sessions, List<Place> list) {}

    record Day(LocalDate date, boolean closed, List<PractitionerDay> practitioners) {}

    @GetMapping("/api/v1/days/{date}")
    Day day(@PathVariable String date) {
        LocalDate asked = dates.read(date);
        var day = diaries.of(current.id(), asked);
        List<UUID> named = day.lines()
                .map(line -> line.who().patientId())
                .filter(Objects::nonNull)
                .toList();
        events.publishEvent(Audited.viewed(current.id(), "GET /api/v1/days/" + asked, named));
        return new Day(
                asked,
                day.closed(),
                day.lanes().stream().map(lane -> practitioner(asked, lane)).toList());
    }

    private static PractitionerDay practitioner(LocalDate date, Lane lane) {
        List<Session> sessions = lane.sessions().stream()
                .map(session -> new Session(
                        session.held().key(),
                        session.roomName(),
                        session.held().span().from(),
                        session.held().span().to(),
                        session.run().pastEnd(),
                        session.run().overtimeMinutes(),
                        session.run().idleMinutes()))
                .toList();
        return new PractitionerDay(
                lane.practitionerName(),
                sessions,
                lane.lines().stream().map(line -> place(date, line)).toList());
    }

    private static Place place(LocalDate date, Line line) {
        Expected expected = line.expected();
        boolean projected = expected != null && expected.starts() != null;
        return new Place(
                line.id(),
                line.who().patientId() == null ? null : line.who().localNumber(),
                line.status().code(),
                date.atTime(line.start()),
                line.slotMinutes(),
                line.fitIn(),
                line.what().method() == null ? null : line.what().method().code(),
                line.what().ears() == null ? null : line.what().ears().code(),
                line.what().otherKind(),
                projected ? starts(date, expected) : null,
                projected ? expected.waitMinutes() : null,
                projected ? expected.longWait() : null,
                projected && !line.fitIn() ? expected.pastSlot() : null,
                at(date, line.times().arrived()),
                at(date, line.times().calledIn()),
                at(date, line.times().finished()),
                at(date, line.times().roomReady()),
                line.plausible());
    }

    private static Map<String, LocalDateTime> starts(LocalDate date, Expected expected) {
        Map<String, LocalDateTime> points = new TreeMap<>();
        points.put("0.1", at(date, expected.startsEarliest()));
        points.put("0.5", at(date, expected.starts()));
        points.put("0.9", at(date, expected.startsLatest()));
        return points;
    }

    private static @Nullable LocalDateTime at(LocalDate date, @Nullable LocalTime time) {
        return time == null ? null : date.atTime(time).truncatedTo(ChronoUnit.MINUTES);
    }
}
