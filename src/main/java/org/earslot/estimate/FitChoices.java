package org.earslot.estimate;

import com.fasterxml.jackson.annotation.JsonInclude;
import org.earslot.duration.Estimator;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.knowledge.ExpertKnowledge;
import org.earslot.duration.table.Priors;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.json.JsonMapper;

/**
 * What was chosen for a fit; stored with it.
 *
 * @param estimator the name of the estimator
 * @param occlusion whether how much of the canal is blocked is a term
 * @param slotProbability the quantile that slots were made of at the time of the fit
 * @param numerics the mark of how the release computed that made the fit, see {@link NumericFingerprint}
 * @param answers what the lead says of the clinic's minutes, as {@link LeadAnswers#text} says it; null where nothing
 */
public record FitChoices(
        String estimator,
        boolean occlusion,
        double slotProbability,
        @Nullable String numerics,
        @JsonInclude(JsonInclude.Include.NON_NULL) @Nullable String answers) {

    /** The estimator that new fits use. */
    static final String CURRENT = "once-plus-parts";

    /** What is assumed before any visit. */
    static final Priors PRIORS = Priors.earCare();

    private static final JsonMapper JSON = JsonMapper.builder().build();

    /** The choices of a fit made now. */
    public static FitChoices now(boolean occlusion, double slotProbability) {
        return new FitChoices(CURRENT, occlusion, slotProbability, NumericFingerprint.mark(), null);
    }

    /** The same with what the lead says. */
    FitChoices saying(LeadAnswers said) {
        return new FitChoices(estimator, occlusion, slotProbability, numerics, said.isEmpty() ? null : said.text());
    }

    /** The terms that visits are said in. */
    EstimatorTerms terms() {
        return new EstimatorTerms(occlusion);
    }

    /** What the lead says, for the estimator. */
    ExpertKnowledge knowledge() {
        return answers == null
                ? ExpertKnowledge.NONE
                : LeadAnswers.read(answers).knowledge(terms());
    }

    /** Whether this release makes the same model of the same visits. */
    boolean computedAsNow() {
        return NumericFingerprint.mark().equals(numerics);
    }

    /** The estimator that fits are made by. */
    public Estimator asEstimator() {
        return knowledge().informing(OncePlusParts.with(PRIORS));
    }

    String text() {
        return JSON.writeValueAsString(this);
    }

    static FitChoices read(String text) {
        return JSON.readValue(text, FitChoices.class);
    }
}
