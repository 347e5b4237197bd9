package org.earslot.invented;

import java.util.EnumSet;
import java.util.Set;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** A person of the invented clinic. */
final class Patient {

    /**
     * What nobody is told.
     *
     * @param tendency to hard wax, spread 1 over people
     * @param pace log multiplier on this person's times
     * @param canals ordinals, right and left
     * @param complies whether softener said to be used is used
     */
    record Hidden(double tendency, double pace, int[] canals, boolean complies) {

        /** Drawn from what the clinic's people are like; the same law for those who are forecast. */
        static Hidden draw(ClinicTruth clinic, Luck luck) {
            int right = luck.pick(clinic.canalShares);
            int left = luck.happens(clinic.canalAgreement) ? right : luck.pick(clinic.canalShares);
            return new Hidden(
                    luck.normal(),
                    clinic.personSpread * luck.normal(),
                    new int[] {right, left},
                    luck.happens(clinic.compliance));
        }

        int canal(Ear ear) {
            return canals[ear.ordinal()];
        }
    }

    final int number;
    final Hidden hidden;
    final boolean hearingAid;
    final Set<Caution> cautions;
    final int referrer;
    final double bothEars;
    final double absence;
    boolean seenBefore;
    int lastDay;

    @Nullable
    Method lastMethod;

    Patient(int number, ClinicTruth clinic, Luck luck) {
        this.number = number;
        hidden = Hidden.draw(clinic, luck);
        hearingAid = luck.happens(0.38);
        cautions = EnumSet.noneOf(Caution.class);
        add(Caution.TINNITUS, 0.1, luck);
        add(Caution.ANTICOAGULANT, 0.09, luck);
        add(Caution.PERFORATION, 0.06, luck);
        add(Caution.DIABETES, 0.1, luck);
        add(Caution.NEEDS_SUPPORT, 0.06, luck);
        referrer = luck.below(clinic.referrers);
        bothEars = luck.happens(0.35) ? 0.85 : 0.2;
        absence = luck.happens(0.1) ? 0.25 : 0.03;
        seenBefore = luck.happens(0.35);
    }

    private void add(Caution caution, double share, Luck luck) {
        if (luck.happens(share)) {
            cautions.add(caution);
        }
    }
}
