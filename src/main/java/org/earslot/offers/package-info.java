/** Where a visit fits: search for a slot, rearranging a day, the waiting list. */
@ApplicationModule(
        allowedDependencies = {
            "booking",
            "booking :: web",
            "caution",
            "clinic",
            "clinic :: policy",
            "day",
            "ear",
            "estimate",
            "estimate :: habits",
            "flow",
            "kit",
            "minutes",
            "page",
            "patient",
            "referral"
        })
@NullMarked
package org.earslot.offers;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
