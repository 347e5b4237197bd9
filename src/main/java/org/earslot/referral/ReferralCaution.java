package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.LocalDate;
import java.util.UUID;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** One caution of a referral, as a row. */
@Entity
class ReferralCaution {

    @Id
    private UUID id;

    private UUID clinicId;
    private Caution caution;
    private @Nullable Ear ear;
    private @Nullable LocalDate since;
    private @Nullable Method method;
    private boolean allClear;

    protected ReferralCaution() {}

    ReferralCaution(UUID clinicId, AskedCaution asked) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.caution = asked.caution();
        this.ear = asked.ear();
        this.since = asked.since();
        this.method = asked.method();
        this.allClear = asked.allClear();
    }

    AskedCaution asked() {
        return new AskedCaution(caution, ear, since, method, allClear);
    }
}
