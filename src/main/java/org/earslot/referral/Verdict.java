package org.earslot.referral;

/** How a method suits, from best to worst. */
public enum Verdict {
    SUITABLE,
    PRECAUTION,
    CONTRAINDICATED;

    Verdict orWorse(Verdict other) {
        return compareTo(other) >= 0 ? this : other;
    }
}
