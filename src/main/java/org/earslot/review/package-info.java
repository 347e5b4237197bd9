/** The month read back: what ran over, why, and what to change. */
@ApplicationModule(
        allowedDependencies = {
            "clinic",
            "clinic :: policy",
            "ear",
            "estimate",
            "flow",
            "minutes",
            "offers",
            "page",
            "visit"
        })
@NullMarked
package org.earslot.review;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
