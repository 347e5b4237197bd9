package org.earslot.booking;

import java.util.Arrays;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.page.Reason.Kind;

/**
 * The code of each refusal. Programs and messages rely on it: it is part of the interface and stays the same whatever the
 * type is called here.
 */
enum BookingRefusalCode {
    SLOT_TAKEN(BookingRefusal.SlotTaken.class, "slot-taken", Kind.CONFLICT),
    UNIT_TAKEN(BookingRefusal.UnitTaken.class, "slot-taken", "unit-taken", Kind.CONFLICT),
    UNIT_OUT_OF_USE(BookingRefusal.UnitOutOfUse.class, "slot-taken", "unit-out-of-use", Kind.CONFLICT),
    OUTSIDE_SESSION(BookingRefusal.OutsideSession.class, "outside-session", Kind.AGAINST_RULE),
    METHOD_NOT_HELD(BookingRefusal.MethodNotHeld.class, "method-not-held", Kind.AGAINST_RULE),
    AGE_NOT_SEEN(BookingRefusal.AgeNotSeen.class, "age-not-seen", Kind.AGAINST_RULE),
    OFF_GRID(BookingRefusal.OffGrid.class, "off-grid", Kind.INVALID),
    SLOT_LENGTH_OUT_OF_RANGE(BookingRefusal.SlotLengthOutOfRange.class, "slot-length-out-of-range", Kind.INVALID),
    IN_THE_PAST(BookingRefusal.InThePast.class, "in-the-past", Kind.INVALID),
    TOO_FAR_AHEAD(BookingRefusal.TooFarAhead.class, "too-far-ahead", Kind.INVALID),
    CLOCKS_CHANGE(BookingRefusal.ClocksChange.class, "clocks-change", Kind.INVALID),
    SOFTENER_NOT_OVER(BookingRefusal.SoftenerNotOver.class, "softener-not-over", Kind.AGAINST_RULE),
    REFERRAL_NOT_READY(BookingRefusal.ReferralNotReady.class, "referral-not-ready", Kind.CONFLICT),
    RED_FLAG_OPEN(BookingRefusal.RedFlagOpen.class, "red-flag-open", Kind.CONFLICT),
    RED_FLAG_TO_BE_SEEN(BookingRefusal.RedFlagToBeSeen.class, "red-flag-to-be-seen", Kind.CONFLICT),
    PATIENT_DECEASED(BookingRefusal.PatientDeceased.class, "patient-deceased", Kind.CONFLICT),
    RED_FLAGS_NOT_ASKED(BookingRefusal.RedFlagsNotAsked.class, "red-flags-not-asked", Kind.CONFLICT),
    ALREADY_BOOKED(BookingRefusal.AlreadyBooked.class, "already-booked", Kind.CONFLICT),
    METHOD_CONTRAINDICATED(BookingRefusal.MethodContraindicated.class, "method-contraindicated", Kind.AGAINST_RULE),
    NO_REASON(BookingRefusal.NoReason.class, "no-reason", Kind.INVALID),
    UNKNOWN(BookingRefusal.Unknown.class, "unknown", Kind.INVALID),
    NOT_NOW(BookingRefusal.NotNow.class, "not-now", Kind.CONFLICT),
    NOT_BEFORE_START(BookingRefusal.NotBeforeStart.class, "not-before-start", Kind.INVALID),
    TIMES_OUT_OF_ORDER(BookingRefusal.TimesOutOfOrder.class, "times-out-of-order", Kind.INVALID),
    IMPLAUSIBLE_SPAN(BookingRefusal.ImplausibleSpan.class, "span-out-of-reason", Kind.INVALID),
    TIME_NOT_OF_THE_DAY(BookingRefusal.TimeNotOfTheDay.class, "time-not-of-the-day", Kind.INVALID),
    PRESS_TOO_OLD(BookingRefusal.PressTooOld.class, "press-too-old", Kind.INVALID),
    KEY_OF_ANOTHER_PRESS(BookingRefusal.KeyOfAnotherPress.class, "key-of-another-press", Kind.CONFLICT),
    DAY_NOT_OVER(BookingRefusal.DayNotOver.class, "day-not-over", Kind.CONFLICT),
    VISITS_UNFINISHED(BookingRefusal.VisitsUnfinished.class, "visits-unfinished", Kind.CONFLICT),
    VISITS_OPEN(BookingRefusal.VisitsOpen.class, "visits-open", Kind.CONFLICT),
    OPEN_VISITS_NOT_CONFIRMED(BookingRefusal.OpenVisitsNotConfirmed.class, "open-visits-not-confirmed", Kind.CONFLICT),
    DAY_CLOSED(BookingRefusal.DayClosed.class, "day-closed", Kind.CONFLICT),
    DAY_NOT_CLOSED(BookingRefusal.DayNotClosed.class, "day-not-closed", Kind.CONFLICT),
    NOTHING_TO_RECORD(BookingRefusal.NothingToRecord.class, "nothing-to-record", Kind.CONFLICT),
    PATIENT_NOT_ASKED(BookingRefusal.PatientNotAsked.class, "patient-not-asked", Kind.CONFLICT),
    CHANGED_MEANWHILE(BookingRefusal.ChangedMeanwhile.class, "changed-meanwhile", Kind.CONFLICT);

    private static final Map<Class<? extends BookingRefusal>, BookingRefusalCode> BY_TYPE =
            Arrays.stream(values()).collect(Collectors.toMap(one -> one.type, Function.identity()));

    private final Class<? extends BookingRefusal> type;
    private final String code;
    private final String wording;
    private final Kind kind;

    BookingRefusalCode(Class<? extends BookingRefusal> type, String code, Kind kind) {
        this(type, code, code, kind);
    }

    BookingRefusalCode(Class<? extends BookingRefusal> type, String code, String wording, Kind kind) {
        this.type = type;
        this.code = code;
        this.wording = wording;
        this.kind = kind;
    }

    static BookingRefusalCode of(BookingRefusal refusal) {
        BookingRefusalCode known = BY_TYPE.get(refusal.getClass());
        if (known == null) {
            throw new IllegalStateException(
                    "No code is listed for " + refusal.getClass().getName());
        }
        return known;
    }

    String code() {
        return code;
    }

    /** Where its text stands: the code, unless one code covers several facts. */
    String wording() {
        return wording;
    }

    Kind kind() {
        return kind;
    }
}
