package org.earslot.offers.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import java.util.Optional;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.referral.ReferralPolicies;
import org.earslot.referral.ReferralRules;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The rules of the waiting list. */
@Controller
class WaitingListPages {

    private final ReferralPolicies policies;
    private final Edits edits;
    private final ReferralRules rules;
    private final CurrentClinic current;
    private final Messages messages;

    WaitingListPages(
            ReferralPolicies policies, Edits edits, ReferralRules rules, CurrentClinic current, Messages messages) {
        this.policies = policies;
        this.edits = edits;
        this.rules = rules;
        this.current = current;
        this.messages = messages;
    }

    @GetMapping("/setup/waiting-list")
    String show(Model model) {
        var policy = policies.of(current.id());
        return show(
                model,
                Map.of(
                        "didNotAttendLimit", String.valueOf(policy.didNotAttendLimit()),
                        "shortNoticeDays", String.valueOf(policy.shortNoticeDays())),
                new Reading());
    }

    @PostMapping("/setup/waiting-list")
    String save(
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Integer> limit = reading.requiredWhole("didNotAttendLimit", typed.get("didNotAttendLimit"), 0, 9);
        Optional<Integer> days = reading.requiredWhole("shortNoticeDays", typed.get("shortNoticeDays"), 0, 28);
        if (limit.isEmpty() || days.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return show(model, typed, reading);
        }
        edits.save(typed.get(FormVersion.FIELD), this::version, () -> {
                    rules.settleWaiting(current.id(), limit.get(), days.get());
                    return true;
                })
                .orElseThrow(Refused::changedMeanwhile);
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/setup/waiting-list";
    }

    private FormVersion version() {
        var policy = policies.of(current.id());
        return FormVersion.of(policy.didNotAttendLimit(), policy.shortNoticeDays());
    }

    private String show(Model model, Map<String, String> values, Reading reading) {
        model.addAttribute("version", version());
        model.addAttribute("values", values);
        model.addAttribute("problems", reading.byField());
        return "offers/waiting-list";
    }
}
