/** The page of one appointment, where what the rooms know of it meets. */
@ApplicationModule(
        allowedDependencies = {
            "aftercare",
            "aftercare :: web",
            "booking",
            "booking :: web",
            "caution",
            "clinic",
            "clinic :: kit",
            "day",
            "day :: web",
            "ear",
            "kit",
            "kit :: web",
            "offers",
            "offers :: web",
            "page",
            "patient",
            "referral",
            "visit"
        })
@NullMarked
package org.earslot.appointment;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
