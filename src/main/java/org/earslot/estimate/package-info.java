/** Fits of the estimator, and estimates on request. */
@ApplicationModule(allowedDependencies = {"clinic", "clinic :: policy", "duration", "ear", "minutes", "page", "visit"})
@NullMarked
package org.earslot.estimate;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
