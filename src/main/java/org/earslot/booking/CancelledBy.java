package org.earslot.booking;

import java.util.Optional;
import org.earslot.ear.Attendance;
import org.earslot.ear.Word;

/** Who called an appointment off. */
public enum CancelledBy implements Word {
    PATIENT("patient", Attendance.CANCELLED_BY_PATIENT),
    CLINIC("clinic", Attendance.CANCELLED_BY_CLINIC);

    private final String code;
    private final Attendance attendance;

    CancelledBy(String code, Attendance attendance) {
        this.code = code;
        this.attendance = attendance;
    }

    @Override
    public String code() {
        return code;
    }

    /** The same, as the visit log says it. */
    public Attendance attendance() {
        return attendance;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<CancelledBy> of(String code) {
        return Word.find(values(), code);
    }
}
