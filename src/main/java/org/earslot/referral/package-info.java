/** What was asked for and reported: referrals, drafts, red flags, and which methods suit them. */
@ApplicationModule(allowedDependencies = {"caution", "clinic", "ear", "page", "patient", "patient :: web"})
@NullMarked
package org.earslot.referral;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
