package org.earslot.estimate;

import org.earslot.duration.Estimator;
import org.earslot.duration.fit.OncePlusParts;
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
 */
public record FitChoices(
        String estimator,
        boolean occlusion,
        double slotProbability,
        @Nullable String numerics) {

    /** The estimator that new fits use. */
    static final String CURRENT = "once-plus-parts";

    /** What is assumed before any visit. */
    static final Priors PRIORS = Priors.earCare();

    private static final JsonMapper JSON = JsonMapper.builder().build();

    /** The choices of a fit made now. */
    public static FitChoices now(boolean occlusion, double slotProbability) {
        return new FitChoices(CURRENT, occlusion, slotProbability, NumericFingerprint.mark());
    }

    /** Whether this release makes the same model of the same visits. */
    boolean computedAsNow() {
        return NumericFingerprint.mark().equals(numerics);
    }

    /** The estimator that fits are made by. */
    public Estimator asEstimator() {
        return OncePlusParts.with(PRIORS);
    }

    String text() {
        return JSON.writeValueAsString(this);
    }

    static FitChoices read(String text) {
        return JSON.readValue(text, FitChoices.class);
    }
}
