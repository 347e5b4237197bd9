/** An appointment, its rules and its changes; the lock of a day. */
@ApplicationModule(
        allowedDependencies = {
            "caution",
            "clinic",
            "clinic :: kit",
            "clinic :: policy",
            "clinic :: setup",
            "ear",
            "estimate",
            "flow",
            "page",
            "patient",
            "referral",
            "visit"
        })
@NullMarked
package org.earslot.booking;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
