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

    /** These details, with what {@code given} knows in place of what was known before. */
    public PatientDetails completedBy(PatientDetails given) {
        return new PatientDetails(
                known(given.familyName, familyName),
                known(given.givenName, givenName),
                known(given.dateOfBirth, dateOfBirth),
                known(given.contact, contact),
                known(given.contactPerson, contactPerson),
                given.contactPermission == Answer.NOT_KNOWN ? contactPermission : given.contactPermission,
                given.preferredRoute == ContactRoute.NOT_KNOWN ? preferredRoute : given.preferredRoute,
                known(given.interpreter, interpreter),
                known(given.mobility, mobility),
                known(given.consentBy, consentBy),
                known(given.comesWith, comesWith),
                given.hearingAid == Answer.NOT_KNOWN ? hearingAid : given.hearingAid);
    }

    private static <T> @Nullable T known(@Nullable T given, @Nullable T before) {
        return given == null ? before : given;
    }
}
