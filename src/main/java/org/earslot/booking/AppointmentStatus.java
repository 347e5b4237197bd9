package org.earslot.booking;

import java.util.Optional;
import org.earslot.ear.Word;

/** Where an appointment stands, in the words of HL7 FHIR R4 (value set appointmentstatus), so with hyphens. */
public enum AppointmentStatus implements Word {
    PROPOSED("proposed"),
    PENDING("pending"),
    BOOKED("booked"),
    ARRIVED("arrived"),
    CHECKED_IN("checked-in"),
    FULFILLED("fulfilled"),
    CANCELLED("cancelled"),
    NOSHOW("noshow"),
    WAITLIST("waitlist"),
    ENTERED_IN_ERROR("entered-in-error");

    private final String code;

    AppointmentStatus(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether the visit is still to come and nobody has arrived. */
    public boolean toCome() {
        return this == PROPOSED || this == PENDING || this == BOOKED;
    }

    /** Whether the patient is there and waits to be called in. */
    public boolean present() {
        return this == ARRIVED || this == CHECKED_IN;
    }

    /** The constant written as {@code code}, or empty where there is none. */
    public static Optional<AppointmentStatus> of(String code) {
        return Word.find(values(), code);
    }
}
