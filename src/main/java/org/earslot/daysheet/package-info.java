/** The morning's sheet and the list as it runs. */
@ApplicationModule(
        allowedDependencies = {
            "booking",
            "caution",
            "clinic",
            "clinic :: kit",
            "clinic :: policy",
            "day",
            "day :: web",
            "ear",
            "estimate",
            "kit",
            "minutes",
            "offers",
            "page",
            "patient",
            "referral",
            "visit"
        })
@NullMarked
package org.earslot.daysheet;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
