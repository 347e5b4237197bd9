/** How a list of visits runs through a session. */
@ApplicationModule(allowedDependencies = {"minutes"})
@NullMarked
package org.earslot.flow;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
