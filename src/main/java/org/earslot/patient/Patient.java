package org.earslot.patient;

import jakarta.persistence.Embedded;
import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** A patient of one clinic, known there by a local number. */
@Entity
public class Patient {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String localNumber;

    @Embedded
    private PatientDetails details;

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

    public Patient(UUID id, ClinicId clinicId, String localNumber, PatientDetails details, Instant createdAt) {
        this.id = id;
        this.clinicId = clinicId;
        this.localNumber = localNumber;
        this.createdAt = createdAt;
        amend(details);
    }

    /** Replaces what is known of the patient. */
    public final void amend(PatientDetails details) {
        this.details = details;
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
        Optional<NameKeys> keys = NameKeys.of(details.familyName()).or(() -> NameKeys.of(details.givenName()));
        familyStart = keys.map(NameKeys::start).orElse(null);
        familyEnd = keys.map(NameKeys::end).orElse(null);
        familySound = keys.map(NameKeys::sound).orElse(null);
        phoneKey = Likeness.phoneKey(details.contact()).orElse(null);
        searchText = SearchText.of(
                details.familyName(), details.givenName(), localNumber, details.dateOfBirth(), details.contact());
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

    public ClinicId clinicId() {
        return clinicId;
    }

    public String localNumber() {
        return localNumber;
    }

    /** Everything known of the patient. */
    public PatientDetails details() {
        return details;
    }

    /** "Family, Given", or the local number where no name is recorded. */
    public String displayName() {
        if (details.nameless()) {
            return localNumber;
        }
        return Optional.ofNullable(details.familyName()).orElse("")
                + (details.givenName() == null ? "" : ", " + details.givenName());
    }

    /** The initials alone, as others see them by the chair. */
    public String initials() {
        if (details.nameless()) {
            return "–";
        }
        return first(details.givenName()) + first(details.familyName());
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
