package org.earslot.clinic.policy;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Method;

/** What the lead has settled for the clinic: grid, accepted shares, limits of slots, turnaround. */
@Entity
public class Policy {

    @Id
    private ClinicId clinicId;

    private int gridMinutes;
    private double acceptedOverrunShare;
    private double acceptedOvertimeShare;
    private int leastSlotMinutes;
    private int mostSlotMinutes;
    private int waitLimitMinutes;
    private int earlyAllowanceMinutes;
    private int irrigationTurnaroundMinutes;
    private int microsuctionTurnaroundMinutes;
    private int manualRemovalTurnaroundMinutes;
    private int tenDaysSoonerMinutes;
    private double waitCost;
    private double idleCost;
    private double overtimeCost;
    private boolean offersWeighList;
    private String slotAdjustments;

    @Version
    private int version;

    protected Policy() {}

    /** The policy a clinic starts with; each number is the project's own assumption, to be set by the lead. */
    public static Policy starting(ClinicId clinicId) {
        Policy policy = new Policy();
        policy.clinicId = clinicId;
        policy.settle(new PolicyTerms(5, 0.25, 0.20, 10, 90, 15, 5, 3, 4, 5));
        policy.weigh(ListCosts.STARTING);
        policy.offersWeighList = true;
        return policy;
    }

    /** Replaces every term at once. */
    public void settle(PolicyTerms terms) {
        gridMinutes = terms.gridMinutes();
        acceptedOverrunShare = terms.acceptedOverrunShare();
        acceptedOvertimeShare = terms.acceptedOvertimeShare();
        leastSlotMinutes = terms.leastSlotMinutes();
        mostSlotMinutes = terms.mostSlotMinutes();
        waitLimitMinutes = terms.waitLimitMinutes();
        earlyAllowanceMinutes = terms.earlyAllowanceMinutes();
        irrigationTurnaroundMinutes = terms.irrigationTurnaroundMinutes();
        microsuctionTurnaroundMinutes = terms.microsuctionTurnaroundMinutes();
        manualRemovalTurnaroundMinutes = terms.manualRemovalTurnaroundMinutes();
        tenDaysSoonerMinutes = terms.tenDaysSoonerMinutes();
        slotAdjustments = terms.slotAdjustments().text();
    }

    /** Sets what a minute weighs when the starts of a list are set. */
    public void weigh(ListCosts costs) {
        waitCost = costs.waitMinute();
        idleCost = costs.idleMinute();
        overtimeCost = costs.overtimeMinute();
    }

    /** Whether offers weigh the whole list, or go to the end of what is booked. */
    public void offerByWholeList(boolean whole) {
        offersWeighList = whole;
    }

    /** Whether offers weigh the whole list with the places still free in it; else they go to the end of it. */
    public boolean offersWeighList() {
        return offersWeighList;
    }

    /** What a minute weighs. */
    public ListCosts costs() {
        return new ListCosts(waitCost, idleCost, overtimeCost);
    }

    /** The terms in force. */
    public PolicyTerms terms() {
        return new PolicyTerms(
                gridMinutes,
                acceptedOverrunShare,
                acceptedOvertimeShare,
                leastSlotMinutes,
                mostSlotMinutes,
                waitLimitMinutes,
                earlyAllowanceMinutes,
                irrigationTurnaroundMinutes,
                microsuctionTurnaroundMinutes,
                manualRemovalTurnaroundMinutes,
                tenDaysSoonerMinutes,
                SlotAdjustments.read(slotAdjustments));
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public int version() {
        return version;
    }

    /** Minutes from finished to room ready that a slot holds for {@code method}. */
    public int turnaroundMinutes(Method method) {
        return terms().turnaroundMinutes(method);
    }
}
