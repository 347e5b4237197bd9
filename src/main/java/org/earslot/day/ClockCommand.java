package org.earslot.day;

import java.time.Duration;
import java.util.UUID;

/**
 * A press that a screen may have stored while it had no connection.
 *
 * @param key the screen's own, once for each press; the same key again is the same press
 * @param age how long ago it was made when it was sent, by the screen's own clock; so that a clock that is wrong does no
 *     harm
 */
public record ClockCommand(UUID key, UUID appointmentId, ClockEvent event, Duration age) {

    /** A younger press was sent at once and counts as made now. */
    public static final Duration AT_ONCE = Duration.ofSeconds(5);

    /** An older press is refused. */
    public static final Duration LONGEST_DELAY = Duration.ofHours(12);

    /** Whether it was stored before it was sent. */
    public boolean wasDelayed() {
        return age.compareTo(AT_ONCE) > 0;
    }

    /** Whether it is recent enough to be accepted. */
    boolean isRecent() {
        return !age.isNegative() && age.compareTo(LONGEST_DELAY) <= 0;
    }
}
