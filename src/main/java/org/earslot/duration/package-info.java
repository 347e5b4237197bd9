/** The estimator: how long a visit takes, learnt from past visits. */
@ApplicationModule(allowedDependencies = {"minutes"})
@NullMarked
package org.earslot.duration;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
