package org.earslot.offers.web;

import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Find a slot: the few best offers, in plain words. */
@Controller
class SlotPages {

    private final SlotPage page;

    SlotPages(SlotPage page) {
        this.page = page;
    }

    @GetMapping("/slots")
    String search(
            @RequestParam Optional<UUID> referral,
            @RequestParam Optional<UUID> appointment,
            @RequestParam Map<String, String> typed,
            Model model) {
        if (referral.isEmpty() && appointment.isEmpty()) {
            throw Refused.invalid("referral", "", "offers.allowed.referral");
        }
        return page.show(model, referral.orElse(null), appointment.orElse(null), typed);
    }
}
