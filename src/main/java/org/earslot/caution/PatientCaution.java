package org.earslot.caution;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.UnknownCode;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** A caution known of a patient: it outlives the referral in which it was said, or the visit on which it was found. */
@Entity
public class PatientCaution {

    /** How it came to be known. */
    public enum Basis implements Word {
        /** Answered with yes when the list was read out. */
        ASKED("asked"),
        /** Seen by the practitioner, or a complication of the visit. */
        FOUND("found"),
        /** Came with a file or from another program that did not say whether anybody was asked. */
        IMPORTED("imported");

        private final String code;

        Basis(String code) {
            this.code = code;
        }

        @Override
        public String code() {
            return code;
        }
    }

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID patientId;
    private String caution;
    private @Nullable Ear ear;
    private @Nullable Method method;
    private @Nullable LocalDate since;
    private boolean allClear;
    private String basis;
    private LocalDate recordedOn;
    private String recordedBy;
    private LocalDate confirmedOn;
    private String confirmedBy;
    private @Nullable Instant correctedAt;
    private @Nullable String correctedBy;
    private @Nullable UUID correctedPractitionerId;
    private @Nullable String correction;

    @Version
    private int version;

    protected PatientCaution() {}

    PatientCaution(ClinicId clinicId, UUID patientId, AskedCaution asked, Basis basis, LocalDate on, String by) {
        this(clinicId, patientId, asked.caution().code(), basis, on, by);
        this.ear = asked.ear();
        this.method = asked.method();
        this.since = asked.since();
        this.allClear = asked.allClear();
    }

    /** @param code of the caution, known here or not */
    PatientCaution(ClinicId clinicId, UUID patientId, String code, Basis basis, LocalDate on, String by) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.patientId = patientId;
        this.caution = code;
        this.basis = basis.code();
        this.recordedOn = on;
        this.recordedBy = by;
        this.confirmedOn = on;
        this.confirmedBy = by;
    }

    /** Whether it says at least what {@code asked} says: the same caution, for that ear and method or for all. */
    boolean covers(AskedCaution asked) {
        return caution.equals(asked.caution().code())
                && (ear == null || ear == asked.ear())
                && (method == null || method == asked.method());
    }

    /** Whether {@code asked} is about the same thing, in this ear or not told which. */
    boolean confirmedBy(AskedCaution asked) {
        return caution.equals(asked.caution().code())
                && (ear == null || asked.ear() == null || ear == asked.ear())
                && (method == null || asked.method() == null || method == asked.method());
    }

    /** It was copied or sent, and nobody was asked: only a later date of the last episode counts. */
    void hear(AskedCaution copied) {
        LocalDate last = copied.since();
        if (last != null && (since == null || last.isAfter(since))) {
            since = last;
        }
    }

    /** It was said again: a later date of the last episode counts. */
    void confirm(AskedCaution asked, LocalDate on, String by) {
        since = asked.since() == null ? since : asked.since();
        allClear = asked.allClear();
        if (!on.isBefore(confirmedOn)) {
            confirmedOn = on;
            confirmedBy = by;
        }
    }

    /** A practitioner says that it was wrong. */
    void correct(UUID practitionerId, String reason, String who, Instant now) {
        correctedAt = now;
        correctedBy = who;
        correctedPractitionerId = practitionerId;
        correction = reason;
    }

    /** Whether it counts on {@code date}: it was not corrected, and either lasts or has not passed yet. */
    public boolean inForceOn(LocalDate date) {
        LocalDate last = since == null ? confirmedOn : since;
        return correctedAt == null
                && caution()
                        .passesAfter()
                        .map(period -> !date.isAfter(last.plus(period)))
                        .orElse(true);
    }

    /** The same as an answer of a referral. */
    public AskedCaution asked() {
        return new AskedCaution(caution(), ear, since, method, allClear);
    }

    public UUID id() {
        return id;
    }

    public UUID patientId() {
        return patientId;
    }

    /** Which one; not to be asked of one whose code is not {@link #known()}. */
    public Caution caution() {
        return Caution.of(caution).orElseThrow(() -> new IllegalStateException("unknown caution"));
    }

    /** Whether its code is known to this release. */
    public boolean known() {
        return Caution.of(caution).isPresent();
    }

    /** Its code as stored. */
    public UnknownCode code() {
        return new UnknownCode(caution);
    }

    /** The ear; null for the whole patient. */
    public @Nullable Ear ear() {
        return ear;
    }

    /** The method it belongs to, as a complication does; null for every one. */
    public @Nullable Method method() {
        return method;
    }

    /** The date of the last episode; null where not known. */
    public @Nullable LocalDate since() {
        return since;
    }

    /** Its code: {@code asked}, {@code found} or {@code imported}. */
    public String basis() {
        return basis;
    }

    /** The clinic's day on which it was first recorded. */
    public LocalDate recordedOn() {
        return recordedOn;
    }

    public String recordedBy() {
        return recordedBy;
    }

    /** The clinic's day on which it was last said or seen. */
    public LocalDate confirmedOn() {
        return confirmedOn;
    }

    public boolean corrected() {
        return correctedAt != null;
    }

    public Optional<Instant> correctedAt() {
        return Optional.ofNullable(correctedAt);
    }

    public Optional<String> correctedBy() {
        return Optional.ofNullable(correctedBy);
    }

    /** Why it was wrong. */
    public Optional<String> correction() {
        return Optional.ofNullable(correction);
    }
}
