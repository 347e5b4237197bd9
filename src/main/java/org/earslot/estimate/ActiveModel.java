package org.earslot.estimate;

import org.earslot.duration.FittedModel;

/**
 * A model ready for use, with the terms it was fitted in.
 *
 * @param version of the kept fit, or {@link Estimate#ASSUMED}
 * @param answersCountUntil visits after which own visits say more than the lead's answers in it; 0 without answers
 */
public record ActiveModel(String version, FittedModel model, EstimatorTerms terms, long answersCountUntil) {

    /** A model with what was chosen for it. */
    static ActiveModel of(String version, FittedModel model, FitChoices choices) {
        return new ActiveModel(
                version, model, choices.terms(), choices.knowledge().outweighedAfter(model));
    }

    /** What estimates by it rest on. */
    Estimate.RestsOn restsOn() {
        return new Estimate.RestsOn((int) model.visits(), answersCountUntil);
    }
}
