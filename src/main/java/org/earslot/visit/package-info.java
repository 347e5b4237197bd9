/** The visit log: what was booked and what happened. */
@ApplicationModule(allowedDependencies = {"clinic", "ear"})
@NullMarked
package org.earslot.visit;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
