package org.earslot.estimate;

import org.earslot.duration.FittedModel;

/**
 * A model ready for use, with the terms it was fitted in.
 *
 * @param version of the kept fit, or {@link Estimate#ASSUMED}
 */
public record ActiveModel(String version, FittedModel model, EstimatorTerms terms) {}
