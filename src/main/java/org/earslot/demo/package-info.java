/** The invented clinic of demo mode, loaded through the public import. */
@ApplicationModule(
        allowedDependencies = {
            "account",
            "booking",
            "clinic",
            "clinic :: kit",
            "clinic :: policy",
            "ear",
            "estimate",
            "exchange :: imports",
            "referral"
        })
@NullMarked
package org.earslot.demo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
