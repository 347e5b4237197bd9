package org.earslot.diary;

import java.util.EnumSet;
import java.util.Set;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.earslot.referral.ReferralDetails;

/**
 * What to say about softener beside the method's own advice.
 *
 * @param byMethod whether the method's own advice is given; not where softener is to be left alone
 * @param besides what else
 */
public record SoftenerAdvice(boolean byMethod, Set<Besides> besides) {

    private static final Set<Caution> OPEN_DRUM = EnumSet.of(Caution.PERFORATION, Caution.GROMMET);

    /** What else is to be said. */
    public enum Besides {
        /** Not with a suspected perforation. */
        NOT_IN_THIS_EAR,
        /** Nut-oil or softener allergy: not that softener (MSD Manual). */
        NOT_WHAT_YOU_ARE_ALLERGIC_TO
    }

    public SoftenerAdvice {
        besides = Set.copyOf(besides);
    }

    /** The advice for {@code method}: a perforation or grommet, suspected or known, in an ear treated forbids softener. */
    public static SoftenerAdvice of(ReferralDetails said, Method method) {
        boolean open = said.cautions().stream()
                        .filter(asked -> asked.ear() == null || said.ears().include(asked.ear()))
                        .anyMatch(asked -> OPEN_DRUM.contains(asked.caution()))
                || said.cautionsNotKnown().stream().anyMatch(OPEN_DRUM::contains);
        boolean wanted = method != Method.MANUAL_REMOVAL;
        Set<Besides> besides = EnumSet.noneOf(Besides.class);
        if (open) {
            besides.add(Besides.NOT_IN_THIS_EAR);
        } else if (wanted && said.cautions().stream().anyMatch(asked -> asked.caution() == Caution.SOFTENER_ALLERGY)) {
            besides.add(Besides.NOT_WHAT_YOU_ARE_ALLERGIC_TO);
        }
        return new SoftenerAdvice(!open, besides);
    }
}
