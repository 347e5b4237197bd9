package org.earslot.aftercare;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.earslot.ear.Method;
import org.earslot.ear.Word;

/** A letter, or a piece of advice that letters take in. */
public enum LetterKind implements Word {
    CONFIRMATION("confirmation", About.APPOINTMENT, true),
    PATIENT("patient", About.VISIT, true),
    REFERRER("referrer", About.VISIT, false),
    REFER_ON("refer_on", About.VISIT, false),
    CANCELLATION("cancellation", About.APPOINTMENT, true),
    MISSED("missed", About.APPOINTMENT, true),
    NOT_BROUGHT("not_brought", About.APPOINTMENT, true),
    NOT_BROUGHT_REFERRER("not_brought_referrer", About.APPOINTMENT, false),
    INVITATION("invitation", About.REFERRAL, true),
    CLOSING("closing", About.REFERRAL, true),
    CLOSING_REFERRER("closing_referrer", About.REFERRAL, false),
    RECALL("recall", About.PATIENT, true),
    ADVICE_IRRIGATION("advice_irrigation", About.PIECE, true),
    ADVICE_MICROSUCTION("advice_microsuction", About.PIECE, true),
    ADVICE_MANUAL_REMOVAL("advice_manual_removal", About.PIECE, true),
    AFTERCARE("aftercare", About.PIECE, true);

    private static final List<String> FIELDS = List.of(
            "clinic",
            "address",
            "phone",
            "hours",
            "today",
            "patient",
            "number",
            "born",
            "when",
            "minutes",
            "practitioner",
            "room",
            "ears",
            "method",
            "received",
            "missed",
            "reason",
            "referrer",
            "findings",
            "adverse",
            "found",
            "cautions",
            "flags",
            "attempts",
            "next",
            "acts",
            "to",
            "why",
            "priority",
            "hearing",
            "told",
            "advice",
            "aftercare");

    private final String code;
    private final About about;
    private final boolean toPatient;

    LetterKind(String code, About about, boolean toPatient) {
        this.code = code;
        this.about = about;
        this.toPatient = toPatient;
    }

    /** What a letter is about. */
    public enum About {
        APPOINTMENT,
        /** An appointment at which the patient was seen: it says what was found. */
        VISIT,
        REFERRAL,
        PATIENT,
        /** No letter of its own, but a part of letters. */
        PIECE
    }

    @Override
    public String code() {
        return code;
    }

    public About about() {
        return about;
    }

    /** Whether it is printed by itself. */
    public boolean letter() {
        return about != About.PIECE;
    }

    /** Whether it is printed from the page of an appointment. */
    public boolean ofAppointment() {
        return about == About.APPOINTMENT || about == About.VISIT;
    }

    /** Whether it goes to the patient, or to whoever cares for the patient. */
    public boolean toPatient() {
        return toPatient;
    }

    /** The fields that may stand in it in braces; only what stands there goes out. */
    public List<String> fields() {
        return letter() ? FIELDS : List.of("phone");
    }

    /** The letters that are about {@code about}. */
    public static List<LetterKind> about(About about) {
        return Arrays.stream(values()).filter(kind -> kind.about == about).toList();
    }

    /** The piece that says how to prepare for a method. */
    public static LetterKind adviceFor(Method method) {
        return switch (method) {
            case IRRIGATION -> ADVICE_IRRIGATION;
            case MICROSUCTION -> ADVICE_MICROSUCTION;
            case MANUAL_REMOVAL -> ADVICE_MANUAL_REMOVAL;
        };
    }

    /** The constant written as {@code code}, or empty if there is none. */
    public static Optional<LetterKind> of(String code) {
        return Word.find(values(), code);
    }
}
