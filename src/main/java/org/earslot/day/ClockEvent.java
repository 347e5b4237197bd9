package org.earslot.day;

import java.util.Optional;
import org.earslot.ear.Word;

/** What the clock of a visit records. */
public enum ClockEvent implements Word {
    ARRIVED("arrived"),
    CALLED_IN("called_in"),
    FINISHED("finished"),
    ROOM_READY("room_ready");

    private final String code;

    ClockEvent(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<ClockEvent> of(String code) {
        return Word.find(values(), code);
    }
}
