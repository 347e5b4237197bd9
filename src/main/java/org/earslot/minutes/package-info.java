/** Distributions of a time in minutes. */
@ApplicationModule(allowedDependencies = {})
@NullMarked
package org.earslot.minutes;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
