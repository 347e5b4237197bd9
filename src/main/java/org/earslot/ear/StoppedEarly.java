package org.earslot.ear;

import java.util.Optional;

/** Whether and why a visit was stopped before its end. */
public enum StoppedEarly implements Word {
    NO("no"),
    COMFORT("comfort"),
    TIME("time"),
    SAFETY("safety");

    private final String code;

    StoppedEarly(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<StoppedEarly> of(String code) {
        return Word.find(values(), code);
    }
}
