/** Files in and out: the visit log and bookings. */
@ApplicationModule(
        allowedDependencies = {
            "booking",
            "caution",
            "clinic",
            "duration",
            "ear",
            "estimate",
            "page",
            "patient",
            "referral",
            "visit"
        })
@NullMarked
package org.earslot.exchange;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
