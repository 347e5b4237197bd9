package org.earslot.daysheet;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.daysheet.DaySheet.LastTime;
import org.earslot.diary.DayDiary.Lane;
import org.earslot.diary.DayDiary.Line;
import org.earslot.diary.DayDiary.Progress;

/**
 * A practitioner's list as it runs, for a screen by the chair.
 *
 * @param inRoom who is in the room; with two rooms the one called in last
 * @param toClear who has left a room that is not ready yet
 * @param next who is to be called in: the first booked of those present, else the first to come
 * @param toRecord those seen whose outcome is not recorded
 * @param rest those still to come after the next
 */
public record RunningList(
        LocalDate date,
        UUID practitionerId,
        String practitioner,
        Optional<Line> inRoom,
        Optional<Line> toClear,
        Optional<Line> next,
        List<Line> toRecord,
        List<Line> rest,
        List<LastTime> lastTimes) {

    /** The patient at the chair, else the next one: whose history is in view. */
    static Optional<Line> atHand(Lane lane) {
        return last(lane, Progress.IN_ROOM).or(() -> nextOf(lane));
    }

    static RunningList of(LocalDate date, Lane lane, List<LastTime> lastTimes) {
        Optional<Line> next = nextOf(lane);
        return new RunningList(
                date,
                lane.practitionerId(),
                lane.practitionerName(),
                last(lane, Progress.IN_ROOM),
                last(lane, Progress.FINISHED),
                next,
                lane.lines().stream()
                        .filter(line -> line.what().method() != null && !line.recorded())
                        .filter(line -> line.progress() == Progress.FINISHED || line.progress() == Progress.READY)
                        .toList(),
                waiting(lane).stream()
                        .filter(line ->
                                next.isEmpty() || !line.id().equals(next.get().id()))
                        .toList(),
                lastTimes);
    }

    /** Whole minutes that the patient in the room has been there at {@code now}. */
    public long minutesInRoom(LocalTime now) {
        return inRoom.map(line -> line.times().calledIn())
                .map(since -> Math.max(0, Duration.between(since, now).toMinutes()))
                .orElse(0L);
    }

    private static Optional<Line> nextOf(Lane lane) {
        List<Line> waiting = waiting(lane);
        return waiting.stream()
                .filter(line -> line.progress() == Progress.PRESENT)
                .findFirst()
                .or(() -> waiting.stream().findFirst());
    }

    private static List<Line> waiting(Lane lane) {
        return lane.lines().stream()
                .filter(line -> line.progress() == Progress.PRESENT || line.progress() == Progress.TO_COME)
                .sorted(Comparator.comparing(Line::start))
                .toList();
    }

    private static Optional<Line> last(Lane lane, Progress progress) {
        return lane.lines().stream()
                .filter(line -> line.progress() == progress && line.times().calledIn() != null)
                .max(Comparator.comparing(line -> line.times().calledIn()));
    }
}
