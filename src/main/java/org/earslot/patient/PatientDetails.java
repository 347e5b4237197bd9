package org.earslot.patient;

import jakarta.persistence.Embeddable;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.earslot.ear.Answer;
import org.earslot.page.DateRange;
import org.earslot.page.PlainText;
import org.jspecify.annotations.Nullable;

/**
 * What is known of a patient, apart from the number; null is "not known".
 *
 * @param postalAddress lines, for letters
 */
@Embeddable
public record PatientDetails(
        @PlainText(max = 120) @Nullable String familyName,
        @PlainText(max = 120) @Nullable String givenName,

        @DateRange(from = "1895-01-01", to = "P0D", personal = true) @Nullable
        LocalDate dateOfBirth,

        @PlainText(max = 200) @Nullable String contact,
        @PlainText(max = 300, lines = true) @Nullable String postalAddress,
        @PlainText(max = 200) @Nullable String contactPerson,
        Answer contactPermission,
        ContactRoute preferredRoute,
        @PlainText(max = 120) @Nullable String interpreter,
        @PlainText(max = 120) @Nullable String mobility,
        @PlainText(max = 120) @Nullable String consentBy,
        @PlainText(max = 120) @Nullable String comesWith,
        Answer hearingAid) {

    /** In the United Kingdom young people of 16 and 17 are taken to be able to consent (Family Law Reform Act 1969, s. 8). */
    private static final int CONSENTS_AT = 16;

    public PatientDetails {
        postalAddress = postalAddress == null || postalAddress.isBlank()
                ? null
                : postalAddress.strip().replace("\r\n", "\n");
        contactPermission = contactPermission == null ? Answer.NOT_KNOWN : contactPermission;
        preferredRoute = preferredRoute == null ? ContactRoute.NOT_KNOWN : preferredRoute;
        hearingAid = hearingAid == null ? Answer.NOT_KNOWN : hearingAid;
    }

    /** Nothing known but the number, as after the import of a visit log. */
    public static final PatientDetails UNKNOWN = new PatientDetails(
            null,
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

    /** Whether neither family nor given name is known. */
    boolean nameless() {
        return familyName == null && givenName == null;
    }

    /** These details, with what {@code given} knows in place of what was known before. */
    public PatientDetails completedBy(PatientDetails given) {
        return new PatientDetails(
                known(given.familyName, familyName),
                known(given.givenName, givenName),
                known(given.dateOfBirth, dateOfBirth),
                known(given.contact, contact),
                known(given.postalAddress, postalAddress),
                known(given.contactPerson, contactPerson),
                given.contactPermission == Answer.NOT_KNOWN ? contactPermission : given.contactPermission,
                given.preferredRoute == ContactRoute.NOT_KNOWN ? preferredRoute : given.preferredRoute,
                known(given.interpreter, interpreter),
                known(given.mobility, mobility),
                known(given.consentBy, consentBy),
                known(given.comesWith, comesWith),
                given.hearingAid == Answer.NOT_KNOWN ? hearingAid : given.hearingAid);
    }

    /** Those of name and date of birth that are known here and in {@code given}, and differ by more than capitals. */
    public List<String> contradictedBy(PatientDetails given) {
        Map<String, @Nullable Object> others = given.identity();
        return identity().entrySet().stream()
                .filter(field -> field.getValue() != null && others.get(field.getKey()) != null)
                .filter(field -> !plain(field.getValue()).equals(plain(others.get(field.getKey()))))
                .map(Map.Entry::getKey)
                .toList();
    }

    private Map<String, @Nullable Object> identity() {
        Map<String, @Nullable Object> fields = new LinkedHashMap<>();
        fields.put("familyName", familyName);
        fields.put("givenName", givenName);
        fields.put("dateOfBirth", dateOfBirth);
        return fields;
    }

    private static String plain(@Nullable Object value) {
        return String.valueOf(value).strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
    }

    /** The age in full years on {@code date}; empty where the date of birth is not known. */
    public Optional<Integer> ageOn(LocalDate date) {
        return Optional.ofNullable(dateOfBirth).map(born -> Math.max(0, (int) ChronoUnit.YEARS.between(born, date)));
    }

    /** Whether this is known to be a child on {@code date}. */
    public boolean isChildOn(LocalDate date) {
        return ageOn(date).filter(age -> age < CONSENTS_AT).isPresent();
    }

    /** Whether it is a child on {@code date} of whom it is not known who consents. */
    public boolean consentNotKnownOn(LocalDate date) {
        return consentBy == null && isChildOn(date);
    }

    private static <T> @Nullable T known(@Nullable T given, @Nullable T before) {
        return given == null ? before : given;
    }
}
