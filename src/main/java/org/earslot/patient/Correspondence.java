package org.earslot.patient;

import java.util.Optional;
import org.earslot.ear.Word;

/** Whether a patient may be written to, from no limit to the strictest. */
public enum Correspondence implements Word {
    USUAL("usual"),
    /** Wants no recall; other letters go out. */
    NO_RECALL("no_recall"),
    /** Has moved away: no recall, no letter to the old address. */
    MOVED("moved"),
    /** Has died: no recall, no letter, and no visit is booked or moved. */
    DECEASED("deceased");

    private final String code;

    Correspondence(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether the patient is recalled. */
    public boolean recalls() {
        return this == USUAL;
    }

    /** Whether letters to the patient may go out. */
    public boolean letters() {
        return compareTo(MOVED) < 0;
    }

    /** Whether the patient may be given a visit. */
    public boolean visits() {
        return this != DECEASED;
    }

    /** The stricter of both. */
    public Correspondence stricter(Correspondence other) {
        return compareTo(other) >= 0 ? this : other;
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<Correspondence> of(String code) {
        return Word.find(values(), code);
    }
}
