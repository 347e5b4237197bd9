/** How to set a session up: start times, mix, and the trade-off of wait and overtime. */
@ApplicationModule(
        allowedDependencies = {"clinic", "clinic :: policy", "ear", "estimate", "flow", "minutes", "page", "visit"})
@NullMarked
package org.earslot.plan;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
