package org.earslot.daysheet;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedule.Progress;
import org.earslot.day.Findings;
import org.earslot.day.LateCard;
import org.earslot.daysheet.DaySheet.LastTime;
import org.earslot.page.FormVersion;
import org.earslot.visit.Visit;

/**
 * A practitioner's list as it runs, for a screen by the chair.
 *
 * @param inRoom who is in the room; of several the one called in last
 * @param alsoInRoom everybody else who was called in and has not left, those whose times cannot be true among them
 * @param toClear who has left a room that is not ready yet
 * @param next who is to be called in: the first in turn of those present, else the first to come
 * @param outside those who wait outside between two call-ins
 * @param toRecord those seen whose outcome is not recorded
 * @param rest those still to come after the next
 * @param seen those whose visit is over, the latest first
 * @param visits the records of those in the room or seen, by appointment
 * @param briefs what to know of those in a room, outside or next, by appointment
 * @param late what to do with one who came late or was fitted in and has no turn yet
 */
public record RunningList(
        LocalDate date,
        UUID practitionerId,
        String practitioner,
        Optional<String> sessionKey,
        Optional<Line> inRoom,
        List<Line> alsoInRoom,
        Optional<Line> toClear,
        Optional<Line> next,
        List<Line> outside,
        List<Line> toRecord,
        List<Line> rest,
        List<Line> seen,
        Map<UUID, Visit> visits,
        Map<UUID, Briefing> briefs,
        Optional<LateCard> late) {

    private static final Comparator<Line> LATEST_FIRST =
            Comparator.comparing(line -> line.times().calledIn(), Comparator.nullsLast(Comparator.reverseOrder()));

    /** Those in a room, then those outside between two call-ins, then the next. */
    static Stream<Line> atHand(Lane lane, LocalTime now) {
        return Stream.of(
                        at(lane, Progress.IN_ROOM).stream(),
                        at(lane, Progress.OUTSIDE).stream(),
                        lane.next(now).stream())
                .flatMap(lines -> lines);
    }

    /** What was done before to the ears of the patient at the chair, else of the next one. */
    public List<LastTime> lastTimes() {
        return inRoom.or(() -> next)
                .map(line -> briefs.get(line.id()))
                .map(Briefing::lastTimes)
                .orElse(List.of());
    }

    /** One who is here, but late or without a slot, and has been given no turn yet. */
    static Optional<Line> withoutTurn(Lane lane) {
        return lane.waiting().stream().filter(Line::hasNoTurn).findFirst();
    }

    static RunningList of(
            LocalDate date,
            Lane lane,
            LocalTime now,
            Map<UUID, Visit> visits,
            Map<UUID, Briefing> briefs,
            Optional<LateCard> late) {
        Optional<Line> next = lane.next(now);
        Optional<Line> inRoom = last(lane, Progress.IN_ROOM);
        return new RunningList(
                date,
                lane.practitionerId(),
                lane.practitionerName(),
                sessionKey(lane, now),
                inRoom,
                at(lane, Progress.IN_ROOM).stream()
                        .filter(line -> inRoom.isEmpty()
                                || !line.id().equals(inRoom.get().id()))
                        .toList(),
                last(lane, Progress.FINISHED).filter(line -> !isUsedAgain(lane, line)),
                next,
                at(lane, Progress.OUTSIDE),
                over(lane).stream()
                        .filter(line -> line.what().method() != null && !line.recorded())
                        .toList(),
                lane.waiting().stream()
                        .filter(line ->
                                next.isEmpty() || !line.id().equals(next.get().id()))
                        .toList(),
                over(lane).stream().sorted(LATEST_FIRST).toList(),
                visits,
                briefs,
                late);
    }

    /** Whole minutes that the patient in the room has been there at {@code now}; time outside between does not count. */
    public long minutesInRoom(LocalTime now) {
        return inRoom.map(line -> line.outside() != null && line.outside().to() != null
                        ? line.outside().to()
                        : line.times().calledIn())
                .map(since -> Math.max(0, Duration.between(since, now).toMinutes()))
                .orElse(0L);
    }

    /**
     * The version of what is recorded of a visit: its form carries it, and one half filled in stays on the screen until
     * something else is recorded.
     */
    public FormVersion recorded(Line line) {
        return Findings.version(Optional.ofNullable(visits.get(line.id())));
    }

    /** Whether the time is over after which one who waits outside may be called in again. */
    public static boolean isDue(Line line, LocalTime now) {
        return line.outside() != null && !now.isBefore(line.outside().due());
    }

    /** Whether somebody was called into that room since: it must have been ready. */
    private static boolean isUsedAgain(Lane lane, Line left) {
        LocalTime finished = left.times().finished();
        return lane.lines().stream()
                .filter(line ->
                        line.roomId().equals(left.roomId()) && !line.id().equals(left.id()))
                .map(line -> line.times().calledIn())
                .anyMatch(calledIn -> calledIn != null && finished != null && !calledIn.isBefore(finished));
    }

    private static Optional<String> sessionKey(Lane lane, LocalTime now) {
        return lane.sessions().stream()
                .filter(session -> now.isBefore(session.held().span().to()))
                .findFirst()
                .or(() -> lane.sessions().stream().reduce((first, second) -> second))
                .map(session -> session.held().key());
    }

    private static List<Line> over(Lane lane) {
        return lane.lines().stream()
                .filter(line -> line.progress() == Progress.FINISHED || line.progress() == Progress.READY)
                .toList();
    }

    private static List<Line> at(Lane lane, Progress progress) {
        return lane.lines().stream().filter(line -> line.progress() == progress).toList();
    }

    private static Optional<Line> last(Lane lane, Progress progress) {
        return at(lane, progress).stream()
                .filter(line -> line.plausible() && line.times().calledIn() != null)
                .max(Comparator.comparing(line -> line.times().calledIn()));
    }
}
