package org.earslot.referral.web;

import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;

/** The head of an open page asks by itself for the red flags that wait; {@link RedFlagStrip} fills them in. */
@Controller
class OpenRedFlagPages {

    @GetMapping("/referrals/open-red-flags")
    String strip() {
        return "referral/strip";
    }
}
