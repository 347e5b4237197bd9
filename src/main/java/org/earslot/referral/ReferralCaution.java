package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import org.earslot.caution.AskedCaution;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.UnknownCode;
import org.jspecify.annotations.Nullable;

/** One caution of a referral, as a row. */
@Entity
class ReferralCaution {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String caution;
    private @Nullable Ear ear;
    private @Nullable LocalDate since;
    private @Nullable Method method;
    private boolean allClear;

    protected ReferralCaution() {}

    ReferralCaution(ClinicId clinicId, AskedCaution asked) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.caution = asked.caution().code();
        this.ear = asked.ear();
        this.since = asked.since();
        this.method = asked.method();
        this.allClear = asked.allClear();
    }

    /** One whose code is not known here, from another release. */
    ReferralCaution(ClinicId clinicId, UnknownCode unknown) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.caution = unknown.code();
    }

    /** The answer; empty if its code is not known. */
    Optional<AskedCaution> asked() {
        return Caution.of(caution).map(known -> new AskedCaution(known, ear, since, method, allClear));
    }

    /** Its code, if it is not known. */
    Optional<UnknownCode> unknown() {
        return Caution.of(caution).isPresent() ? Optional.empty() : Optional.of(new UnknownCode(caution));
    }
}
