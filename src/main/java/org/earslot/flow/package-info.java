/** How a list of visits runs through a session. */
@ApplicationModule(
        type = ApplicationModule.Type.OPEN,
        allowedDependencies = {"minutes"})
@NullMarked
package org.earslot.flow;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
