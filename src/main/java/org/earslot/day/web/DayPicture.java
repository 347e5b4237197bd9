package org.earslot.day.web;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.LocalClock;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.Progress;
import org.jspecify.annotations.Nullable;

/**
 * A day as a drawing: where each stroke of each lane goes. Time runs left to right over the same hours in every lane;
 * neighbours stand on two rows in turn, so that an overrun into the next slot is seen and not hidden.
 */
public record DayPicture(List<Hour> hours, @Nullable Double now, List<Strip> strips) {

    static final int WIDTH = 1000;

    private static final int TOP_ROW = 36;
    private static final int ROW_GAP = 34;
    private static final int WAIT_BASE = 128;
    private static final int WAIT_HEIGHT = 22;
    /** The wait line reaches its top at least at this many minutes, so that a quiet day looks quiet. */
    private static final double LEAST_WAIT_SCALE = 20;

    private static final double LEAST_LATE = 0.5;
    private static final double ROOM_BEFORE_NOW = 20;
    private static final double ROOM_AFTER_NOW = 80;

    /** A full hour. */
    public record Hour(double x, String label) {}

    /**
     * One lane.
     *
     * @param waits the points of the line of expected waits
     * @param waitScale the minutes at the line's top
     */
    public record Strip(
            Lane lane, List<Band> sessions, List<Band> breaks, List<Bar> bars, String waits, long waitScale) {}

    /** A stretch of time. */
    public record Band(double x, double width) {}

    /**
     * One appointment.
     *
     * @param y top of its row
     * @param booked where it is booked to start; null for a fit-in
     * @param slot the slot
     * @param body from called in to the median finish; null where nobody comes
     * @param tail where the thin tail ends
     * @param starts where it is projected to start
     * @param kind a word for the style: {@code expected}, {@code present}, {@code running}, {@code done}, {@code missed},
     *     {@code fit-in}
     * @param room how much room the label has
     */
    public record Bar(
            Line line,
            int y,
            @Nullable Double booked,
            Band slot,
            @Nullable Band body,
            @Nullable Double tail,
            @Nullable Double starts,
            String kind,
            double room) {}

    static DayPicture of(DaySchedule day, @Nullable LocalTime now) {
        int from = Math.max(0, times(day).mapToInt(LocalTime::getHour).min().orElse(8));
        int to = Math.min(
                24,
                times(day)
                        .mapToInt(time -> time.getHour() + (time.getMinute() > 0 ? 1 : 0))
                        .max()
                        .orElse(18));
        Scale scale = new Scale(from, Math.max(from + 1, to));
        List<Strip> strips =
                day.lanes().stream().map(lane -> strip(lane, scale)).toList();
        Double nowAt =
                now == null || now.getHour() < scale.from() || now.getHour() >= scale.to() ? null : scale.at(now);
        List<Hour> hours = IntStream.rangeClosed(scale.from(), scale.to())
                .mapToObj(hour -> hour(scale.at(hour * 60.0), hour, nowAt))
                .toList();
        return new DayPicture(hours, nowAt, strips);
    }

    /** An hour beside the words for now leaves its own words out. */
    private static Hour hour(double x, int hour, @Nullable Double now) {
        boolean covered = now != null && x > now - ROOM_BEFORE_NOW && x < now + ROOM_AFTER_NOW;
        return new Hour(x, covered ? "" : hour + ":00");
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

    private static Strip strip(Lane lane, Scale scale) {
        List<Band> sessions = lane.sessions().stream()
                .map(session -> scale.band(
                        session.held().span().from(), session.held().span().to()))
                .toList();
        List<Band> breaks = lane.sessions().stream()
                .flatMap(session -> session.held().pause().stream())
                .map(pause -> scale.band(pause.from(), pause.to()))
                .toList();
        List<Line> drawn = lane.lines().stream()
                .filter(line -> line.comes() || line.status() == AppointmentStatus.NOSHOW)
                .sorted(Comparator.comparing(Line::start))
                .toList();
        List<Bar> bars = new ArrayList<>();
        for (int i = 0; i < drawn.size(); i++) {
            LocalTime next = i + 2 < drawn.size() ? drawn.get(i + 2).start() : null;
            bars.add(bar(drawn.get(i), TOP_ROW + i % 2 * ROW_GAP, next, scale));
        }
        double most = Math.max(
                LEAST_WAIT_SCALE,
                drawn.stream().mapToDouble(Line::waitMinutes).max().orElse(0));
        return new Strip(lane, sessions, breaks, bars, waits(drawn, scale, most), Math.round(most));
    }

    private static Bar bar(Line line, int y, @Nullable LocalTime next, Scale scale) {
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
        Band slot = scale.band(line.start(), end(line));
        double room = (next == null ? WIDTH : scale.at(next)) - slot.x() - 4;
        return new Bar(
                line,
                y,
                line.fitIn() ? null : scale.at(line.start()),
                slot,
                drawn ? scale.band(starts, ends) : null,
                drawn && latest != null ? scale.at(latest) : null,
                drawn && times.finished() == null && apart(line, starts) ? scale.at(starts) : null,
                kind(line),
                Math.max(30, room));
    }

    private static LocalTime end(Line line) {
        return line.slotEnd().isAfter(line.start()) ? line.slotEnd() : LocalTime.MAX;
    }

    /** A second tick only where it says something. */
    private static boolean apart(Line line, LocalTime starts) {
        return line.fitIn() || Math.abs(minute(starts) - minute(line.start())) > LEAST_LATE;
    }

    private static String kind(Line line) {
        Progress progress = line.progress();
        String how = switch (progress) {
            case TO_COME -> "expected";
            case PRESENT -> "present";
            case IN_ROOM, OUTSIDE -> "running";
            case FINISHED, READY -> "done";
            case OFF -> "missed";
        };
        return line.fitIn() ? how + " fit-in" : how;
    }

    /** A step for each visit, as high as its expected wait; down to the ground where nobody is booked. */
    private static String waits(List<Line> drawn, Scale scale, double most) {
        List<Line> coming = drawn.stream().filter(Line::comes).toList();
        List<String> points = new ArrayList<>();
        for (int i = 0; i < coming.size(); i++) {
            Line line = coming.get(i);
            LocalTime next = i + 1 < coming.size() ? coming.get(i + 1).start() : LocalTime.MAX;
            LocalTime until = next.isBefore(end(line)) ? next : end(line);
            if (i == 0 || end(coming.get(i - 1)).isBefore(line.start())) {
                points.add(point(scale.at(line.start()), 0, most));
            }
            points.add(point(scale.at(line.start()), line.waitMinutes(), most));
            points.add(point(scale.at(until), line.waitMinutes(), most));
            if (until.isBefore(next)) {
                points.add(point(scale.at(until), 0, most));
            }
        }
        return String.join(" ", points);
    }

    private static String point(double x, double wait, double most) {
        return String.format(Locale.ROOT, "%.1f,%.1f", x, WAIT_BASE - WAIT_HEIGHT * wait / most);
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
            double x = WIDTH * (minute - from * 60) / (60.0 * (to - from));
            return Math.round(Math.max(0, Math.min(WIDTH, x)) * 10) / 10.0;
        }

        Band band(LocalTime start, LocalTime end) {
            double x = at(start);
            return new Band(x, Math.max(0, Math.round((at(end) - x) * 10) / 10.0));
        }
    }
}
