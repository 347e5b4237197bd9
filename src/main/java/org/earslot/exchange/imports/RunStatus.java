package org.earslot.exchange.imports;

import java.util.Optional;
import org.earslot.ear.Word;

/** How far a run has come. */
public enum RunStatus implements Word {
    WAITING("waiting"),
    RUNNING("running"),
    DONE("done"),
    FAILED("failed");

    private final String code;

    RunStatus(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<RunStatus> of(String code) {
        return Word.find(values(), code);
    }
}
