package org.earslot.diary;

import java.util.List;
import java.util.Optional;
import org.earslot.ear.Word;

/** A letter, or a piece of advice that letters take in. */
public enum LetterKind implements Word {
    CONFIRMATION("confirmation"),
    PATIENT("patient"),
    REFERRER("referrer"),
    REFER_ON("refer_on"),
    ADVICE_IRRIGATION("advice_irrigation"),
    ADVICE_MICROSUCTION("advice_microsuction"),
    ADVICE_MANUAL_REMOVAL("advice_manual_removal"),
    AFTERCARE("aftercare");

    private static final List<String> FIELDS = List.of(
            "clinic",
            "today",
            "patient",
            "number",
            "born",
            "when",
            "practitioner",
            "room",
            "ears",
            "method",
            "reason",
            "referrer",
            "findings",
            "attempts",
            "next",
            "advice",
            "aftercare");

    private final String code;

    LetterKind(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether it is printed by itself. */
    public boolean letter() {
        return ordinal() < ADVICE_IRRIGATION.ordinal();
    }

    /** The fields that may stand in it in braces; only what stands there goes out. */
    public List<String> fields() {
        return letter() ? FIELDS : List.of();
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<LetterKind> of(String code) {
        return Word.find(values(), code);
    }
}
