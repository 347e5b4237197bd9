package org.earslot.patient;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import org.earslot.ear.Answer;
import org.jspecify.annotations.Nullable;

/** A patient of one clinic, known there by a local number. */
@Entity
public class Patient {

    @Id
    private UUID id;

    private UUID clinicId;
    private String localNumber;
    private @Nullable String familyName;
    private @Nullable String givenName;
    private @Nullable LocalDate dateOfBirth;
    private @Nullable String contact;
    private @Nullable String contactPerson;
    private Answer contactPermission;
    private String preferredRoute;
    private @Nullable String interpreter;
    private @Nullable String mobility;
    private @Nullable String consentBy;
    private @Nullable String comesWith;
    private Answer hearingAid;
    private String correspondence = Correspondence.USUAL.code();
    private Instant createdAt;
    private @Nullable UUID mergedInto;
    private @Nullable String familyStart;
    private @Nullable String familyEnd;
    private @Nullable String familySound;
    private @Nullable String phoneKey;
    private @Nullable String searchText;
    private int keysVersion;

    @Version
    private int version;

    protected Patient() {}

    public Patient(UUID id, UUID clinicId, String localNumber, PatientDetails details, Instant createdAt) {
        this.id = id;
        this.clinicId = clinicId;
        this.localNumber = localNumber;
        this.createdAt = createdAt;
        amend(details);
    }

    /** Replaces what is known of the patient. */
    public final void amend(PatientDetails details) {
        familyName = details.familyName();
        givenName = details.givenName();
        dateOfBirth = details.dateOfBirth();
        contact = details.contact();
        contactPerson = details.contactPerson();
        contactPermission = details.contactPermission();
        preferredRoute = details.preferredRoute().code();
        interpreter = details.interpreter();
        mobility = details.mobility();
        consentBy = details.consentBy();
        comesWith = details.comesWith();
        hearingAid = details.hearingAid();
        makeKeys();
    }

    /** Is written to so from now on. */
    public void correspondBy(Correspondence chosen) {
        correspondence = chosen.code();
    }

    /** Whether letters and recalls go out. */
    public Correspondence correspondence() {
        return Correspondence.of(correspondence).orElseThrow();
    }

    /** Whether the patient is recorded as deceased: then no letter goes out, and no visit is booked or moved. */
    public boolean deceased() {
        return !correspondence().visits();
    }

    /** Makes what it is found again by. */
    final void makeKeys() {
        Optional<NameKeys> keys = NameKeys.of(familyName).or(() -> NameKeys.of(givenName));
        familyStart = keys.map(NameKeys::start).orElse(null);
        familyEnd = keys.map(NameKeys::end).orElse(null);
        familySound = keys.map(NameKeys::sound).orElse(null);
        phoneKey = Likeness.phoneKey(contact).orElse(null);
        searchText = SearchText.of(familyName, givenName, localNumber, dateOfBirth, contact);
        keysVersion = NameKeys.VERSION;
    }

    /** The keys as a row of the table has them, and its id. */
    Object[] keyed() {
        makeKeys();
        return new Object[] {familyStart, familyEnd, familySound, phoneKey, searchText, keysVersion, id};
    }

    /** Is a second record of another patient. */
    public void mergeInto(UUID kept) {
        mergedInto = kept;
    }

    /** Is a patient of its own again. */
    public void standAlone() {
        mergedInto = null;
    }

    /** Whether it is a second record of another patient. */
    public boolean merged() {
        return mergedInto != null;
    }

    /** The patient that this is a second record of. */
    public Optional<UUID> mergedInto() {
        return Optional.ofNullable(mergedInto);
    }

    public UUID id() {
        return id;
    }

    public UUID clinicId() {
        return clinicId;
    }

    public String localNumber() {
        return localNumber;
    }

    /** Everything known of the patient. */
    public PatientDetails details() {
        return new PatientDetails(
                familyName,
                givenName,
                dateOfBirth,
                contact,
                contactPerson,
                contactPermission,
                ContactRoute.of(preferredRoute).orElseThrow(),
                interpreter,
                mobility,
                consentBy,
                comesWith,
                hearingAid);
    }

    /** "Family, Given", or the local number where no name is recorded. */
    public String displayName() {
        if (familyName == null && givenName == null) {
            return localNumber;
        }
        return Optional.ofNullable(familyName).orElse("") + (givenName == null ? "" : ", " + givenName);
    }

    /** The initials alone, as others see them by the chair. */
    public String initials() {
        if (familyName == null && givenName == null) {
            return "–";
        }
        return first(givenName) + first(familyName);
    }

    private static String first(@Nullable String name) {
        return name == null || name.isBlank()
                ? ""
                : name.strip().substring(0, name.strip().offsetByCodePoints(0, 1)) + ".";
    }

    public int version() {
        return version;
    }
}
