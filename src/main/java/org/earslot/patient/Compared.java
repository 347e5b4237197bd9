package org.earslot.patient;

import java.time.LocalDate;
import java.util.UUID;
import org.earslot.ear.Answer;
import org.jspecify.annotations.Nullable;

/** What a patient is compared by; many are read at once, so no more than that. */
record Compared(
        UUID id,
        String localNumber,
        @Nullable String familyName,
        @Nullable String givenName,
        @Nullable LocalDate dateOfBirth,
        @Nullable String contact) {

    PatientDetails details() {
        return new PatientDetails(
                familyName,
                givenName,
                dateOfBirth,
                contact,
                null,
                null,
                Answer.NOT_KNOWN,
                ContactRoute.NOT_KNOWN,
                null,
                null,
                null,
                null,
                Answer.NOT_KNOWN);
    }
}
