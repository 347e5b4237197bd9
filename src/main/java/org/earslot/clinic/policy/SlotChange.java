package org.earslot.clinic.policy;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** A change of slots whose effect on a month was seen before it was made, and that can be undone. */
@Entity
public class SlotChange {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String madeBy;
    private Instant madeAt;
    private @Nullable String undoneBy;
    private @Nullable Instant undoneAt;
    private double overrunShareBefore;
    private String slotAdjustmentsBefore;
    private double overrunShareAfter;
    private String slotAdjustmentsAfter;

    @Version
    private int version;

    protected SlotChange() {}

    SlotChange(ClinicId clinicId, SlotTerms before, SlotTerms after, String who, Instant at) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.madeBy = who;
        this.madeAt = at;
        this.overrunShareBefore = before.acceptedOverrunShare();
        this.slotAdjustmentsBefore = before.adjustments().text();
        this.overrunShareAfter = after.acceptedOverrunShare();
        this.slotAdjustmentsAfter = after.adjustments().text();
    }

    void takeBack(String who, Instant at) {
        undoneBy = who;
        undoneAt = at;
    }

    public UUID id() {
        return id;
    }

    public String madeBy() {
        return madeBy;
    }

    public Instant madeAt() {
        return madeAt;
    }

    boolean isUndone() {
        return undoneAt != null;
    }

    /** What held before. */
    public SlotTerms before() {
        return new SlotTerms(overrunShareBefore, SlotAdjustments.read(slotAdjustmentsBefore));
    }

    /** What holds since. */
    public SlotTerms after() {
        return new SlotTerms(overrunShareAfter, SlotAdjustments.read(slotAdjustmentsAfter));
    }
}
