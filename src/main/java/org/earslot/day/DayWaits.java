package org.earslot.day;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.LocalClock;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.ear.Attendance;
import org.earslot.flow.list.Session;
import org.earslot.flow.past.RealisedVisit;
import org.earslot.flow.past.WaitSources;
import org.earslot.flow.past.WaitSources.Share;
import org.earslot.flow.past.WaitSources.Source;
import org.earslot.flow.past.WaitSources.Wait;
import org.jspecify.annotations.Nullable;

/**
 * Where the waits of a day came from, list by list, as far as it has run.
 *
 * @param waitMinutes of all patients of the list together
 * @param sources the largest first; they sum to the whole
 * @param overtimeMinutes past the session's end
 */
public record DayWaits(
        String practitioner,
        LocalTime from,
        LocalTime to,
        double waitMinutes,
        int waited,
        List<OfSource> sources,
        double overtimeMinutes) {

    public DayWaits {
        sources = List.copyOf(sources);
    }

    /**
     * One source.
     *
     * @param cause its code: {@code visit}, {@code fit_in}, {@code diary}, {@code session_start}, {@code late_arrival},
     *     {@code called_in_late}
     * @param start of the visit at the source; null for the session
     * @param initials of its patient; empty for the session
     * @param minutes of others' wait
     * @param patients who waited for it
     */
    public record OfSource(String cause, @Nullable LocalTime start, String initials, double minutes, int patients) {}

    /** One for each session of the day in which somebody was seen and every visit begun is over. */
    public static List<DayWaits> of(DaySchedule day) {
        List<DayWaits> all = new ArrayList<>();
        for (Lane lane : day.lanes()) {
            for (DaySchedule.Session session : lane.sessions()) {
                of(lane, session).ifPresent(all::add);
            }
        }
        return all;
    }

    private static Optional<DayWaits> of(Lane lane, DaySchedule.Session session) {
        LocalTime from = session.held().span().from();
        LocalTime to = session.held().span().to();
        List<Line> lines = lane.lines().stream()
                .filter(line -> !begin(line).isBefore(from) && begin(line).isBefore(to))
                .toList();
        boolean running = lines.stream()
                .filter(Line::plausible)
                .anyMatch(
                        line -> line.times().calledIn() != null && line.times().finished() == null);
        List<RealisedVisit> realised =
                lines.stream().flatMap(line -> realised(line).stream()).toList();
        if (running || realised.stream().noneMatch(visit -> visit.calledIn() != null)) {
            return Optional.empty();
        }
        WaitSources found = WaitSources.of(Session.between(from, to), realised);
        Map<String, Line> byName =
                lines.stream().collect(Collectors.toMap(line -> line.id().toString(), Function.identity()));
        return Optional.of(new DayWaits(
                lane.practitionerName(),
                from,
                to,
                found.waits().stream()
                        .mapToDouble(wait -> wait.minutes().doubleValue())
                        .sum(),
                (int) found.waits().stream()
                        .filter(wait -> wait.minutes().doubleValue() >= 0.5)
                        .count(),
                found.totals().entrySet().stream()
                        .map(entry -> source(entry.getKey(), entry.getValue().doubleValue(), found, byName))
                        .sorted(Comparator.comparingDouble(OfSource::minutes).reversed())
                        .toList(),
                found.overtime().stream()
                        .mapToDouble(share -> share.minutes().doubleValue())
                        .sum()));
    }

    /** Where a visit stands in the day: its booked start, or when a fit-in was called in. */
    private static LocalTime begin(Line line) {
        LocalTime calledIn = line.times().calledIn();
        return line.fitIn() && calledIn != null ? calledIn : line.start();
    }

    private static OfSource source(Source source, double minutes, WaitSources found, Map<String, Line> byName) {
        Line line = byName.get(source.visit());
        int patients = 0;
        for (Wait wait : found.waits()) {
            patients += wait.shares().stream().map(Share::source).anyMatch(source::equals) ? 1 : 0;
        }
        return new OfSource(
                source.cause().code(),
                line == null ? null : line.start(),
                line == null ? "" : line.who().initials(),
                minutes,
                patients);
    }

    private static Optional<RealisedVisit> realised(Line line) {
        LocalClock times = line.times();
        String name = line.id().toString();
        if (!line.plausible()) {
            return Optional.empty();
        }
        LocalTime booked = line.fitIn() ? null : line.start();
        if (times.calledIn() != null && times.finished() != null) {
            LocalTime ready = times.roomReady() == null ? times.finished() : times.roomReady();
            // Where the clocks go back, or past midnight, a later time stands earlier on the clock.
            if (ready.isBefore(times.calledIn())) {
                return Optional.empty();
            }
            LocalTime came = times.arrived() == null && line.fitIn() ? times.calledIn() : times.arrived();
            return Optional.of(new RealisedVisit(name, booked, came, times.calledIn(), ready));
        }
        boolean absent =
                line.attendance() == Attendance.DID_NOT_ATTEND || line.attendance() == Attendance.LATE_NOT_SEEN;
        return absent && booked != null
                ? Optional.of(RealisedVisit.absent(name, Objects.requireNonNull(booked)))
                : Optional.empty();
    }
}
