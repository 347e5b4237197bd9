/** The estimator: how long a visit takes, learnt from past visits. */
@ApplicationModule(
        type = ApplicationModule.Type.OPEN,
        allowedDependencies = {"minutes"})
@NullMarked
package org.earslot.duration;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
