/** The invented clinic of demo mode, loaded through the public import. */
@ApplicationModule(
        allowedDependencies = {
            "account",
            "diary",
            "referral",
            "visit",
            "visit :: imports",
            "estimate",
            "clinic",
            "ear",
            "page"
        })
@NullMarked
package org.earslot.demo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
