package org.earslot.referral;

import java.util.Optional;
import org.earslot.ear.Word;

/** A sign that stops a routine booking and goes to a named clinician. */
public enum RedFlag implements Word {
    SUDDEN_LOSS_RECENT("sudden_loss_recent"),
    SUDDEN_LOSS_EARLIER("sudden_loss_earlier"),
    LOSS_WITH_DROOP("loss_with_droop"),
    WEAK_IMMUNITY("weak_immunity"),
    BUTTON_BATTERY("button_battery"),
    SWELLING_BEHIND_EAR("swelling_behind_ear"),
    HEAD_INJURY("head_injury"),
    NEW_VERTIGO("new_vertigo");

    private final String code;

    RedFlag(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<RedFlag> of(String code) {
        return Word.find(values(), code);
    }
}
