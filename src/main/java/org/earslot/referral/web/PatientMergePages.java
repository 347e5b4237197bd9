package org.earslot.referral.web;

import java.util.List;
import java.util.UUID;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.referral.Merging;
import org.earslot.referral.ReferralRefusal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Two records of one patient: looked at side by side, made one, and parted again. */
@Controller
@RequestMapping("/patients")
class PatientMergePages {

    private final ClinicReferrals referrals;
    private final Merging merging;
    private final CurrentClinic current;
    private final Messages messages;

    PatientMergePages(ClinicReferrals referrals, Merging merging, CurrentClinic current, Messages messages) {
        this.referrals = referrals;
        this.merging = merging;
        this.current = current;
        this.messages = messages;
    }

    /** Both records side by side, before they are made one. */
    @GetMapping("/{id}/merge")
    String compare(@PathVariable UUID id, @RequestParam UUID with, Model model) {
        model.addAttribute("kept", referrals.patient(id));
        model.addAttribute("gone", referrals.patient(with));
        referrals.viewed("merge", List.of(id, with));
        return "referral/merge";
    }

    @PostMapping("/{id}/merge")
    String merge(@PathVariable UUID id, @RequestParam UUID with, RedirectAttributes redirect) {
        referrals.patient(id);
        referrals.patient(with);
        if (merging.merge(current.id(), id, with, current.who()).isEmpty()) {
            throw Refused.of(List.of(ReferralRefusal.NOT_TO_MERGE));
        }
        return done("referral.merge.done", id, redirect);
    }

    @PostMapping("/{id}/merge/{merge}/undo")
    String part(@PathVariable UUID id, @PathVariable UUID merge, RedirectAttributes redirect) {
        referrals.patient(id);
        if (!merging.undo(current.id(), merge, current.who())) {
            throw Refused.of(List.of(ReferralRefusal.NOT_TO_PART));
        }
        return done("referral.merge.undone", id, redirect);
    }

    private String done(String key, UUID id, RedirectAttributes redirect) {
        redirect.addFlashAttribute("notice", messages.say(key));
        return "redirect:/patients/" + id;
    }
}
