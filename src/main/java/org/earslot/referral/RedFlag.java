package org.earslot.referral;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.ear.Answer;
import org.earslot.ear.Word;

/** A sign that is asked about before anything is booked; all but one stop a routine booking. */
public enum RedFlag implements Word {
    SUDDEN_LOSS_RECENT("sudden_loss_recent", Within.A_DAY),
    SUDDEN_LOSS_EARLIER("sudden_loss_earlier", Within.TWO_WEEKS),
    LOSS_WITH_DROOP("loss_with_droop", Within.NOW),
    WEAK_IMMUNITY("weak_immunity", Within.A_DAY),
    BUTTON_BATTERY("button_battery", Within.NOW),
    SWELLING_BEHIND_EAR("swelling_behind_ear", Within.SAME_DAY),
    HEAD_INJURY("head_injury", Within.NOW),
    NEW_VERTIGO("new_vertigo", Within.NOW),
    SEVERE_EAR_PAIN("severe_ear_pain", Within.SAME_DAY),
    PAIN_OR_DISCHARGE("pain_or_discharge", Within.SAME_DAY),
    /** A note to the practitioner and the referrer; it stops nothing. */
    ONE_SIDED_TINNITUS("one_sided_tinnitus", Within.TWO_WEEKS);

    private final String code;
    private final Within within;

    RedFlag(String code, Within within) {
        this.code = code;
        this.within = within;
    }

    /** How soon a clinician has to decide, the most urgent first. */
    public enum Within {
        NOW,
        SAME_DAY,
        A_DAY,
        TWO_WEEKS;

        /** When that is up, counted from {@code raised}; the same day and two weeks end with a day of the clinic. */
        Instant due(Instant raised, ZoneId zone) {
            return switch (this) {
                case NOW -> raised;
                case SAME_DAY -> endOfDay(raised, 0, zone);
                case A_DAY -> raised.plus(Duration.ofHours(24));
                case TWO_WEEKS -> endOfDay(raised, 14, zone);
            };
        }

        private static Instant endOfDay(Instant raised, int later, ZoneId zone) {
            return raised.atZone(zone)
                    .toLocalDate()
                    .plusDays(later + 1L)
                    .atStartOfDay(zone)
                    .toInstant();
        }
    }

    /** How soon a clinician has to decide after a yes: as the default texts say where it is sent. */
    public Within within() {
        return within;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether a yes stops a routine booking; if not, it is a note. */
    public boolean stops() {
        return this != ONE_SIDED_TINNITUS;
    }

    /** Those that stop a routine booking, in the order in which they are asked. */
    public static List<RedFlag> stopping() {
        return Arrays.stream(values()).filter(RedFlag::stops).toList();
    }

    /** The whole list was asked, and every answer is no. */
    public static Map<RedFlag, Answer> noneOfThese() {
        return Arrays.stream(values()).collect(Collectors.toMap(Function.identity(), flag -> Answer.NO));
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<RedFlag> of(String code) {
        return Word.find(values(), code);
    }
}
