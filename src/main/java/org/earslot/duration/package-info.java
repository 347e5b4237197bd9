/**
 * The estimator: how long a visit takes, learnt from past visits. A {@code table} of visits is put in order ({@code past});
 * the {@code fit} learns from it with the tables of {@code findings}; {@code predict} makes a distribution and its reasons
 * of what was found, {@code knowledge} combines it with what an expert says, and {@code judge} scores forecasts.
 */
@ApplicationModule(
        type = ApplicationModule.Type.OPEN,
        allowedDependencies = {"minutes"})
@NullMarked
package org.earslot.duration;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
