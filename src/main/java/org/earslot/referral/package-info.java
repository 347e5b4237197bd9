/** What was asked for and reported: referrals, drafts, red flags. */
@ApplicationModule(allowedDependencies = {"caution", "clinic", "ear", "page", "patient", "patient :: web"})
@NullMarked
package org.earslot.referral;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
