package org.earslot.booking;

import org.earslot.page.Reason.Kind;

/**
 * What the diary may refuse, each with its code. Programs and messages rely on the codes: they are part of the interface
 * and stay the same whatever a constant is called here.
 */
public enum BookingRefusalCode {
    /** The practitioner or the room is booked then. */
    SLOT_TAKEN("slot-taken", Kind.CONFLICT, "start"),
    /** Every movable unit that the method cannot do without serves another room then: to a program, a slot taken. */
    UNIT_TAKEN("slot-taken", Kind.CONFLICT, "start", "unit-taken"),
    /** Every unit that could serve the room is out of use: to a program, a slot taken. */
    UNIT_OUT_OF_USE("slot-taken", Kind.CONFLICT, "start", "unit-out-of-use"),
    /** No session of that practitioner in that room holds the whole place clear of its break. */
    OUTSIDE_SESSION("outside-session", Kind.AGAINST_RULE, "start"),
    /** The practitioner does not hold the method. */
    METHOD_NOT_HELD("method-not-held", Kind.AGAINST_RULE, "practitioner"),
    /** The practitioner does not see patients of that age; the values are the practitioner's, not the patient's. */
    AGE_NOT_SEEN("age-not-seen", Kind.AGAINST_RULE, "practitioner"),
    /** The start or the length is not on the clinic's grid. */
    OFF_GRID("off-grid", Kind.INVALID),
    /** The slot is shorter or longer than the clinic's policy allows. */
    SLOT_LENGTH_OUT_OF_RANGE("slot-length-out-of-range", Kind.INVALID, "slotMinutes"),
    /** The start is over. */
    IN_THE_PAST("in-the-past", Kind.INVALID, "start"),
    /** The diary is not open that far ahead. */
    TOO_FAR_AHEAD("too-far-ahead", Kind.INVALID, "start"),
    /** The clocks change within the place. */
    CLOCKS_CHANGE("clocks-change", Kind.INVALID, "start"),
    /** The softener days are not over by then. */
    SOFTENER_NOT_OVER("softener-not-over", Kind.AGAINST_RULE, "start"),
    /** The referral is closed. */
    REFERRAL_NOT_READY("referral-not-ready", Kind.CONFLICT),
    /** A red flag of the patient waits for a clinician's decision, by whichever referral it was raised. */
    RED_FLAG_OPEN("red-flag-open", Kind.CONFLICT),
    /** A clinician sees the patient here about a red flag: that visit is moved by itself, never along with others. */
    RED_FLAG_TO_BE_SEEN("red-flag-to-be-seen", Kind.CONFLICT),
    /** The patient is recorded as deceased. */
    PATIENT_DECEASED("patient-deceased", Kind.CONFLICT),
    /** Not every red flag has been asked yet, and no clinician has decided to go on without. */
    RED_FLAGS_NOT_ASKED("red-flags-not-asked", Kind.CONFLICT),
    /** The referral has that appointment already. */
    ALREADY_BOOKED("already-booked", Kind.CONFLICT),
    /** The method must not be used with a caution of this referral on that date. */
    METHOD_CONTRAINDICATED("method-contraindicated", Kind.AGAINST_RULE, "start"),
    /** A reason was asked for and none was given. */
    NO_REASON("no-reason", Kind.INVALID, "reason"),
    /** The clinic has none such (or it is out of use): {@code appointment}, {@code referral}, {@code patient}, ... */
    UNKNOWN("unknown", Kind.INVALID),
    /** The appointment does not stand where this can be done. */
    NOT_NOW("not-now", Kind.CONFLICT),
    /** It is too early for that. */
    NOT_BEFORE_START("not-before-start", Kind.INVALID),
    /** The press was made too long ago to be undone: to a program, not now. */
    UNDO_TOO_LATE("not-now", Kind.CONFLICT, "", "undo-too-late"),
    /** A time that does not follow the one before it, or is missing. */
    TIMES_OUT_OF_ORDER("times-out-of-order", Kind.INVALID, "at"),
    /** From called in to finished, or from finished to room ready, it would be more than three hours. */
    IMPLAUSIBLE_SPAN("span-out-of-reason", Kind.INVALID, "at"),
    /** A time that is still to come, or not of the appointment's day. */
    TIME_NOT_OF_THE_DAY("time-not-of-the-day", Kind.INVALID, "at"),
    /** A press that waited too long before it was sent. */
    PRESS_TOO_OLD("press-too-old", Kind.INVALID, "ageMillis"),
    /** The key came before, with another press. */
    KEY_OF_ANOTHER_PRESS("key-of-another-press", Kind.CONFLICT, "key"),
    /** The day is not over yet, or still to come. */
    DAY_NOT_OVER("day-not-over", Kind.CONFLICT),
    /** Visits that have begun and are not finished. */
    VISITS_UNFINISHED("visits-unfinished", Kind.CONFLICT),
    /** Visits without an end while the last session of the day still runs. */
    VISITS_OPEN("visits-open", Kind.CONFLICT),
    /** Closing a day with that many visits without an end was not confirmed. */
    OPEN_VISITS_NOT_CONFIRMED("open-visits-not-confirmed", Kind.CONFLICT, "openVisits"),
    /** The day is closed, its times stay as they are. */
    DAY_CLOSED("day-closed", Kind.CONFLICT),
    /** The day is open already. */
    DAY_NOT_CLOSED("day-not-closed", Kind.CONFLICT),
    /** An ear was recorded with findings although the visit has not begun, or is of another kind. */
    NOTHING_TO_RECORD("nothing-to-record", Kind.CONFLICT),
    /** The session would end late more often than the clinic accepts, and nobody has decided to book it all the same. */
    BEYOND_LATE_ENDS("beyond-late-ends", Kind.AGAINST_RULE, "start"),
    /** The slot is shorter than any that is offered. */
    SHORTER_THAN_OFFERED("shorter-than-offered", Kind.AGAINST_RULE, "slotMinutes"),
    /** A confirmed start is moved only by asking the patient. */
    PATIENT_NOT_ASKED("patient-not-asked", Kind.CONFLICT, "asked"),
    /** Someone else changed the appointment first. */
    CHANGED_MEANWHILE("changed-meanwhile", Kind.CONFLICT);

    private final String code;
    private final Kind kind;
    private final String field;
    private final String wording;

    BookingRefusalCode(String code, Kind kind) {
        this(code, kind, "");
    }

    BookingRefusalCode(String code, Kind kind, String field) {
        this(code, kind, field, code);
    }

    BookingRefusalCode(String code, Kind kind, String field, String wording) {
        this.code = code;
        this.kind = kind;
        this.field = field;
        this.wording = wording;
    }

    String code() {
        return code;
    }

    Kind kind() {
        return kind;
    }

    /** The field that is wrong; empty if it is none, or if the refusal names it. */
    String field() {
        return field;
    }

    /** Where its text stands: the code, unless one code covers several facts. */
    String wording() {
        return wording;
    }
}
