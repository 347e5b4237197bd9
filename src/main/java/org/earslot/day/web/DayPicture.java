package org.earslot.day.web;

import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.LocalClock;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.Pace;
import org.jspecify.annotations.Nullable;

/**
 * A day as drawings: one lane for each visit, in the row that says the same in words. Time runs left to right over the same
 * hours in every row; all places and widths are in hundredths of the lane's width.
 *
 * @param now where now is; null on another day or outside the hours drawn
 */
public record DayPicture(List<Hour> hours, @Nullable Double now, List<Strip> strips) {

    private static final double LEAST_LATE = 0.5;
    /** An hour this near to the words for now leaves its own words out. */
    private static final double ROOM_BEFORE_NOW = 5;

    private static final double ROOM_AFTER_NOW = 14;

    /**
     * A full hour.
     *
     *
     * @param label empty where there is no room for it
     */
    public record Hour(double x, String label) {}

    /** A stretch of time. */
    public record Band(double x, double width) {}

    /**
     * One practitioner's day.
     *
     * @param pace how the list runs; null where nobody is left to see, or the day is over
     */
    public record Strip(
            Lane lane, @Nullable Pace pace, List<Band> sessions, List<Band> breaks, Map<UUID, Marks> marks) {}

    /**
     * One visit.
     *
     * @param slot the slot; for a fit-in about how long
     * @param body from called in to the median finish; null where nobody comes
     * @param tail where the visit could last until; null once it is over
     * @param starts where it is projected to start, if that is not the booked start
     * @param kind words for the style: {@code expected}, {@code present}, {@code running}, {@code done}, {@code missed},
     *     {@code fit-in}
     */
    public record Marks(
            Band slot,
            @Nullable Band body,
            @Nullable Double tail,
            @Nullable Double starts,
            String kind) {}

    /** @param now null on another day */
    static DayPicture of(DaySchedule day, @Nullable LocalTime now, boolean past) {
        int from = times(day).mapToInt(LocalTime::getHour).min().orElse(8);
        int to = times(day)
                .mapToInt(time -> time.getHour() + (time.getMinute() > 0 ? 1 : 0))
                .max()
                .orElse(18);
        Scale scale = new Scale(from, Math.min(24, Math.max(from + 1, to)));
        Double nowAt =
                now == null || now.getHour() < scale.from() || now.getHour() >= scale.to() ? null : scale.at(now);
        return new DayPicture(
                IntStream.rangeClosed(scale.from(), scale.to())
                        .mapToObj(hour -> hour(scale.at(hour * 60.0), hour, nowAt))
                        .toList(),
                nowAt,
                day.lanes().stream()
                        .map(lane -> strip(lane, past ? null : lane.pace(now).orElse(null), scale))
                        .toList());
    }

    private static Hour hour(double x, int hour, @Nullable Double now) {
        boolean covered = now != null && x > now - ROOM_BEFORE_NOW && x < now + ROOM_AFTER_NOW;
        return new Hour(x, covered ? "" : String.valueOf(hour));
    }

    private static Stream<LocalTime> times(DaySchedule day) {
        return day.lanes().stream()
                .flatMap(lane -> Stream.concat(
                        lane.sessions().stream()
                                .flatMap(session -> Stream.of(
                                        session.held().span().from(),
                                        session.held().span().to())),
                        lane.lines().stream().flatMap(DayPicture::times)));
    }

    private static Stream<LocalTime> times(Line line) {
        LocalTime latest = line.expected() == null ? null : line.expected().finishesLatest();
        return Stream.of(
                        line.start(),
                        line.slotEnd(),
                        line.times().calledIn(),
                        line.times().finished(),
                        latest)
                .filter(time -> time != null && !time.isBefore(LocalTime.of(5, 0)));
    }

    private static Strip strip(Lane lane, @Nullable Pace pace, Scale scale) {
        return new Strip(
                lane,
                pace,
                lane.sessions().stream()
                        .map(session -> scale.band(
                                session.held().span().from(),
                                session.held().span().to()))
                        .toList(),
                lane.sessions().stream()
                        .flatMap(session -> session.held().pause().stream())
                        .map(pause -> scale.band(pause.from(), pause.to()))
                        .toList(),
                lane.lines().stream()
                        .filter(line -> line.comes() || line.status() == AppointmentStatus.NOSHOW)
                        .collect(Collectors.toMap(Line::id, line -> marks(line, scale))));
    }

    private static Marks marks(Line line, Scale scale) {
        LocalClock times = line.times();
        LocalTime starts = times.calledIn() != null
                ? times.calledIn()
                : line.expected() == null ? null : line.expected().starts();
        LocalTime ends = times.finished() != null
                ? times.finished()
                : line.expected() == null ? null : line.expected().finishes();
        LocalTime latest = times.finished() != null || line.expected() == null
                ? null
                : line.expected().finishesLatest();
        boolean drawn = line.comes() && starts != null && ends != null && ends.isAfter(starts);
        return new Marks(
                scale.band(line.slot().from(), line.slot().to()),
                drawn ? scale.band(starts, ends) : null,
                drawn && latest != null && latest.isAfter(ends) ? scale.at(latest) : null,
                drawn && times.finished() == null && apart(line, starts) ? scale.at(starts) : null,
                kind(line));
    }

    /** A tick only where it says something. */
    private static boolean apart(Line line, LocalTime starts) {
        return line.fitIn() || Math.abs(minute(starts) - minute(line.start())) > LEAST_LATE;
    }

    private static String kind(Line line) {
        String how = switch (line.progress()) {
            case TO_COME -> "expected";
            case PRESENT -> "present";
            case IN_ROOM, OUTSIDE -> "running";
            case FINISHED, READY -> "done";
            case OFF -> "missed";
        };
        return line.fitIn() ? how + " fit-in" : how;
    }

    private static double minute(LocalTime time) {
        return time.toSecondOfDay() / 60.0;
    }

    /** The hours drawn, from full hour to full hour. */
    private record Scale(int from, int to) {

        double at(LocalTime time) {
            return at(minute(time));
        }

        double at(double minute) {
            double x = 100 * (minute - from * 60) / (60.0 * (to - from));
            return Math.round(Math.max(0, Math.min(100, x)) * 100) / 100.0;
        }

        Band band(LocalTime start, LocalTime end) {
            double x = at(start);
            return new Band(x, Math.max(0, Math.round((at(end) - x) * 100) / 100.0));
        }
    }
}
