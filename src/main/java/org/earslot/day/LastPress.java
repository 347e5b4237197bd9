package org.earslot.day;

import java.time.Duration;
import java.time.LocalTime;
import java.util.Optional;
import org.earslot.booking.LocalClock;
import org.earslot.day.DaySchedule.Line;
import org.jspecify.annotations.Nullable;

/** The last that was recorded of a visit, and when. */
public record LastPress(Line line, ClockEvent event, LocalTime at) {

    /** So long a press can be undone where it was made; the project's own choice. */
    public static final Duration SHOWN = Duration.ofSeconds(30);

    /** Whether it can still be undone where it was made. */
    boolean isFresh(LocalTime now) {
        return !at.isAfter(now) && secondsLeft(now) > 0;
    }

    /** For how many seconds that will still be so. */
    public long secondsLeft(LocalTime now) {
        return SHOWN.minus(Duration.between(at, now)).toSeconds();
    }

    /** Empty where nothing was recorded, or the patient came too late to be seen. */
    static Optional<LastPress> of(Line line) {
        LocalClock times = line.times();
        return switch (line.progress()) {
            case PRESENT -> of(line, ClockEvent.ARRIVED, times.arrived());
            case IN_ROOM -> of(line, ClockEvent.CALLED_IN, times.calledIn());
            case FINISHED -> of(line, ClockEvent.FINISHED, times.finished());
            case READY -> of(line, ClockEvent.ROOM_READY, times.roomReady());
            case TO_COME, OUTSIDE, OFF -> Optional.empty();
        };
    }

    private static Optional<LastPress> of(Line line, ClockEvent event, @Nullable LocalTime at) {
        return Optional.ofNullable(at).map(time -> new LastPress(line, event, time));
    }
}
