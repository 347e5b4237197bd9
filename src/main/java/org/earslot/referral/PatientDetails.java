package org.earslot.referral;

import java.time.LocalDate;
import org.earslot.ear.Answer;
import org.jspecify.annotations.Nullable;

/** What is known of a patient, apart from the number; null is "not known". */
public record PatientDetails(
        @Nullable String familyName,
        @Nullable String givenName,
        @Nullable LocalDate dateOfBirth,
        @Nullable String contact,
        @Nullable String contactPerson,
        Answer contactPermission,
        ContactRoute preferredRoute,
        @Nullable String interpreter,
        @Nullable String mobility,
        @Nullable String consentBy,
        @Nullable String comesWith,
        Answer hearingAid) {

    /** Nothing known but the number, as after the import of a visit log. */
    public static final PatientDetails UNKNOWN = new PatientDetails(
            null,
            null,
            null,
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
