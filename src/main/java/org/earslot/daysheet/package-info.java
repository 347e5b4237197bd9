/** The morning's sheet and the list as it runs. */
@ApplicationModule(
        allowedDependencies = {"diary", "visit", "estimate", "flow", "referral", "clinic", "minutes", "ear", "page"})
@NullMarked
package org.earslot.daysheet;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
