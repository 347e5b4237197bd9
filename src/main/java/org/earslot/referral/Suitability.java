package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;

/**
 * How one method suits one referral on one date. It supports, and does not replace, the practitioner's judgement and
 * local protocol; the table behind it is not exhaustive.
 *
 * @param verdict the worst of the reasons
 * @param reasons each rule that counts, with the ear it counts for (none: the whole patient)
 */
public record Suitability(Method method, Verdict verdict, List<Reason> reasons) {

    public Suitability {
        reasons = List.copyOf(reasons);
    }

    /** Whether the method must not be offered. */
    public boolean contraindicated() {
        return verdict == Verdict.CONTRAINDICATED;
    }

    /** One rule that counts. */
    public record Reason(CautionRule rule, Optional<Ear> ear) {}
}
