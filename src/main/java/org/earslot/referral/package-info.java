/** Patients, their referrals and cautions, and which methods suit them. */
@ApplicationModule(allowedDependencies = {"clinic", "ear", "page"})
@NullMarked
package org.earslot.referral;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
