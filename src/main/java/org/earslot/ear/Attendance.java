package org.earslot.ear;

import java.util.Optional;

/** What became of a booked visit; the distinctions are never merged. */
public enum Attendance implements Word {
    ATTENDED("attended"),
    ATTENDED_LATE("attended_late"),
    LATE_NOT_SEEN("late_not_seen"),
    DID_NOT_ATTEND("did_not_attend"),
    CANCELLED_BY_PATIENT("cancelled_by_patient"),
    CANCELLED_BY_CLINIC("cancelled_by_clinic");

    private final String code;

    Attendance(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether the patient was seen: attended, or arrived late and seen. */
    public boolean wasSeen() {
        return this == ATTENDED || this == ATTENDED_LATE;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<Attendance> of(String code) {
        return Word.find(values(), code);
    }
}
