/** Fits of the estimator, and estimates on request. */
@ApplicationModule(allowedDependencies = {"duration", "visit", "visit :: csv", "clinic", "minutes", "ear", "page"})
@NullMarked
package org.earslot.estimate;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
