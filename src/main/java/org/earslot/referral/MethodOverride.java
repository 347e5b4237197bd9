package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** A practitioner's word that a method is used in spite of the table, for the cautions known then and no others. */
@Entity
public class MethodOverride {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID referralId;
    private Method method;
    private String cautions;
    private String tableVersion;
    private String reason;
    private UUID practitionerId;
    private String who;
    private Instant at;
    private @Nullable Instant withdrawnAt;

    protected MethodOverride() {}

    MethodOverride(
            Referral referral,
            Suitability suits,
            String tableVersion,
            String reason,
            UUID practitionerId,
            String who,
            Instant at) {
        this.id = UUID.randomUUID();
        this.clinicId = referral.clinicId();
        this.referralId = referral.id();
        this.method = suits.method();
        this.cautions = Objects.requireNonNull(Codes.joined(suits.forbiddenBy()));
        this.tableVersion = tableVersion;
        this.reason = reason;
        this.practitionerId = practitionerId;
        this.who = who;
        this.at = at;
    }

    boolean overrides(Suitability suits) {
        return withdrawnAt == null && method == suits.method() && cautions().containsAll(suits.forbiddenBy());
    }

    void withdraw(Instant now) {
        withdrawnAt = now;
    }

    public UUID id() {
        return id;
    }

    public Method method() {
        return method;
    }

    /** What it overrides. */
    public List<Caution> cautions() {
        return Codes.read(cautions, Caution::of);
    }

    public String reason() {
        return reason;
    }

    /** The practitioner whose word it is. */
    public UUID practitionerId() {
        return practitionerId;
    }

    public String who() {
        return who;
    }

    public Instant at() {
        return at;
    }

    /** The table it was made against. */
    public String tableVersion() {
        return tableVersion;
    }
}
