/** Appointments, the search for a slot, and the waiting list. */
@ApplicationModule(
        allowedDependencies = {
            "referral",
            "visit",
            "visit :: imports",
            "visit :: csv",
            "estimate",
            "flow",
            "clinic",
            "minutes",
            "ear",
            "page"
        })
@NullMarked
package org.earslot.diary;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
