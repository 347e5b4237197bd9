package org.earslot.referral;

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
    SUDDEN_LOSS_RECENT("sudden_loss_recent"),
    SUDDEN_LOSS_EARLIER("sudden_loss_earlier"),
    LOSS_WITH_DROOP("loss_with_droop"),
    WEAK_IMMUNITY("weak_immunity"),
    BUTTON_BATTERY("button_battery"),
    SWELLING_BEHIND_EAR("swelling_behind_ear"),
    HEAD_INJURY("head_injury"),
    NEW_VERTIGO("new_vertigo"),
    SEVERE_EAR_PAIN("severe_ear_pain"),
    PAIN_OR_DISCHARGE("pain_or_discharge"),
    /** A note to the practitioner and the referrer; it stops nothing. */
    ONE_SIDED_TINNITUS("one_sided_tinnitus");

    private final String code;

    RedFlag(String code) {
        this.code = code;
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
