package org.earslot.day;

import java.time.LocalTime;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * What to do with a patient who is here, or late and on the way, and whose turn it is not: three ways, and the minutes each costs each person.
 *
 * @param appointmentId null for a walk-in who has no appointment yet
 * @param initials of the patient
 * @param bookedStart null for a walk-in
 * @param arrived when the patient came, or will be here
 * @param onTheWay whether the patient is not here yet
 */
public record LateCard(
        @Nullable UUID appointmentId,
        String initials,
        @Nullable LocalTime bookedStart,
        LocalTime arrived,
        boolean onTheWay,
        List<Choice> choices) {

    public LateCard {
        choices = List.copyOf(choices);
    }

    /** The same card of the patient with these initials. */
    LateCard of(String given) {
        return new LateCard(appointmentId, given, bookedStart, arrived, onTheWay, choices);
    }

    /** When the patient is seen. */
    public enum Turn {
        NOW("now"),
        AFTER_NEXT("after_next"),
        REBOOK("rebook");

        private final String code;

        Turn(String code) {
            this.code = code;
        }

        public String code() {
            return code;
        }

        /** The turn written as {@code code}, or empty where there is none. */
        public static Optional<Turn> of(String code) {
            return Arrays.stream(values())
                    .filter(turn -> turn.code.equals(code))
                    .findFirst();
        }
    }

    /**
     * One way.
     *
     * @param starts called in: half of the time by then; null where not seen today
     * @param waitMinutes the patient's own, from now or from the arrival
     * @param addedWait of all others together, minutes
     * @param endsLate how many more sessions of a hundred like this one would end late
     */
    public record Choice(
            Turn turn,
            @Nullable LocalTime starts,
            long waitMinutes,
            List<Delay> delays,
            long addedWait,
            long endsLate) {

        public Choice {
            delays = List.copyOf(delays);
        }
    }

    /**
     * Somebody's start moves.
     *
     * @param minutes later; below 0 earlier
     */
    public record Delay(String initials, LocalTime bookedStart, long minutes) {}
}
