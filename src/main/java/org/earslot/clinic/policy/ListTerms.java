package org.earslot.clinic.policy;

/**
 * By what the lists of a clinic are set.
 *
 * @param acceptedOvertimeShare share of sessions that may end late, in (0, 1)
 * @param costs what a minute weighs
 */
public record ListTerms(double acceptedOvertimeShare, ListCosts costs) {

    /** Those of a policy. */
    public static ListTerms of(Policy policy) {
        return new ListTerms(policy.terms().acceptedOvertimeShare(), policy.costs());
    }
}
