package org.earslot.caution;

import java.util.List;
import java.util.Optional;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;

/**
 * How one method suits one referral on one date. It supports, and does not replace, the practitioner's judgement and
 * local protocol; the table behind it is not exhaustive.
 *
 * @param reasons each rule that counts, with the ear it counts for (none: the whole patient)
 * @param remarks what else to mind
 * @param asked whether the list of cautions was read out; without it, no reason means nothing
 */
public record Suitability(Method method, List<Reason> reasons, List<Remark> remarks, boolean asked) {

    public Suitability {
        reasons = List.copyOf(reasons);
        remarks = List.copyOf(remarks);
    }

    /** The worst of the reasons; a remark is at least a precaution. */
    public Verdict verdict() {
        return worst(reasons);
    }

    /** The verdict for one ear: what counts for it or for the whole patient. */
    public Verdict verdict(Ear ear) {
        return worst(reasons.stream()
                .filter(reason -> reason.ear().isEmpty() || reason.ear().get() == ear)
                .toList());
    }

    /** Whether that verdict says nothing, because the list of cautions was not read out. */
    public boolean notJudged(Verdict verdict) {
        return !asked && verdict == Verdict.SUITABLE;
    }

    /** Whether the method must not be offered. */
    public boolean contraindicated() {
        return verdict() == Verdict.CONTRAINDICATED;
    }

    /** The cautions that forbid the method. */
    public List<Caution> forbiddenBy() {
        return reasons.stream()
                .filter(reason -> reason.verdict() == Verdict.CONTRAINDICATED)
                .map(reason -> reason.rule().caution())
                .distinct()
                .toList();
    }

    private Verdict worst(List<Reason> counted) {
        return counted.stream()
                .map(Reason::verdict)
                .reduce(remarks.isEmpty() ? Verdict.SUITABLE : Verdict.PRECAUTION, Verdict::orWorse);
    }

    /**
     * One rule that counts.
     *
     * @param notKnown whether nobody could say if the caution holds; it then is a precaution: look or ask first
     */
    public record Reason(CautionRule rule, Optional<Ear> ear, boolean notKnown) {

        /** What it comes to. */
        public Verdict verdict() {
            return notKnown && rule.verdict() == Verdict.CONTRAINDICATED ? Verdict.PRECAUTION : rule.verdict();
        }
    }

    /** Something else to mind that no caution of the list says. */
    public enum Remark {
        /** Suction may shift the hearing threshold for a time (Cronin & Zhao 2020). */
        HEARING_TEST_AFTER_SUCTION,
        /** A caution is stored in a code that this release does not know: look or ask first, as where nobody could say. */
        UNKNOWN_CAUTION
    }
}
