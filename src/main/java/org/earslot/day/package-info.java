/** The day as it runs: its list, every press, late cards, closing. */
@ApplicationModule(
        allowedDependencies = {
            "booking",
            "booking :: web",
            "caution",
            "clinic",
            "clinic :: policy",
            "ear",
            "estimate",
            "estimate :: habits",
            "flow",
            "minutes",
            "page",
            "patient",
            "referral",
            "visit"
        })
@NullMarked
package org.earslot.day;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
