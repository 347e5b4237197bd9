package org.earslot.clinic.policy;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** A change of accepted overtime and costs that was seen before it was made, and can be undone. */
@Entity
public class PolicyChange {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String madeBy;
    private Instant madeAt;
    private @Nullable Instant undoneAt;
    private double overtimeShareBefore;
    private double waitCostBefore;
    private double idleCostBefore;
    private double overtimeCostBefore;
    private double overtimeShareAfter;
    private double waitCostAfter;
    private double idleCostAfter;
    private double overtimeCostAfter;

    @Version
    private int version;

    protected PolicyChange() {}

    PolicyChange(ClinicId clinicId, ListTerms before, ListTerms after, String who, Instant at) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.madeBy = who;
        this.madeAt = at;
        this.overtimeShareBefore = before.acceptedOvertimeShare();
        this.waitCostBefore = before.costs().waitMinute();
        this.idleCostBefore = before.costs().idleMinute();
        this.overtimeCostBefore = before.costs().overtimeMinute();
        this.overtimeShareAfter = after.acceptedOvertimeShare();
        this.waitCostAfter = after.costs().waitMinute();
        this.idleCostAfter = after.costs().idleMinute();
        this.overtimeCostAfter = after.costs().overtimeMinute();
    }

    void takeBack(Instant at) {
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
    public ListTerms before() {
        return new ListTerms(overtimeShareBefore, new ListCosts(waitCostBefore, idleCostBefore, overtimeCostBefore));
    }

    /** What holds since. */
    public ListTerms after() {
        return new ListTerms(overtimeShareAfter, new ListCosts(waitCostAfter, idleCostAfter, overtimeCostAfter));
    }
}
