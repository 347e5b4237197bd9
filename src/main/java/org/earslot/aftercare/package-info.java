/** What follows a visit: follow-ups, recall, letters, missed visits, onward referrals. */
@ApplicationModule(
        allowedDependencies = {"booking", "caution", "clinic", "ear", "estimate", "page", "patient", "referral", "visit"
        })
@NullMarked
package org.earslot.aftercare;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
