package org.earslot.estimate;

import org.earslot.duration.Estimator;
import org.earslot.duration.LogLinear;
import org.earslot.duration.OncePlusParts;
import org.earslot.duration.Priors;
import tools.jackson.databind.json.JsonMapper;

/**
 * What was chosen for a fit; kept with it, so that it can be made again.
 *
 * @param estimator the name of the estimator
 * @param occlusion whether how much of the canal is blocked is a term
 * @param slotProbability the quantile that slots were made of at the time of the fit
 */
record FitChoices(String estimator, boolean occlusion, double slotProbability) {

    /** The estimator that new fits use. */
    static final String CURRENT = "once-plus-parts";

    private static final JsonMapper JSON = JsonMapper.builder().build();

    /** The estimator of that name. */
    Estimator asEstimator() {
        return switch (estimator) {
            case CURRENT -> OncePlusParts.with(Priors.earCare());
            case "log-linear" -> LogLinear.with(Priors.earCare());
            default -> throw new IllegalStateException("no estimator is called " + estimator + " in this version");
        };
    }

    String text() {
        return JSON.writeValueAsString(this);
    }

    static FitChoices read(String text) {
        return JSON.readValue(text, FitChoices.class);
    }
}
