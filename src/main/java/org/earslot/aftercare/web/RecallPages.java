package org.earslot.aftercare.web;

import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.earslot.aftercare.Recall;
import org.earslot.clinic.Audited;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.referral.ReferralPolicies;
import org.earslot.referral.ReferralRules;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The recall of hearing-aid wearers. */
@Controller
class RecallPages {

    private static final int MOST_RECALLS = 100;

    private final Recall recall;
    private final ReferralPolicies policies;
    private final ReferralRules rules;
    private final Edits edits;
    private final CurrentClinic current;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    RecallPages(
            Recall recall,
            ReferralPolicies policies,
            ReferralRules rules,
            Edits edits,
            CurrentClinic current,
            Messages messages,
            ApplicationEventPublisher events) {
        this.recall = recall;
        this.policies = policies;
        this.rules = rules;
        this.edits = edits;
        this.current = current;
        this.messages = messages;
        this.events = events;
    }

    @GetMapping("/referrals/recalls")
    String recalls(Model model) {
        model.addAttribute("months", policies.of(current.id()).recallMonths());
        model.addAttribute("version", recallVersion());
        List<Recall.Due> due = recall.today(current.id());
        List<Recall.Due> shown = due.stream().limit(MOST_RECALLS).toList();
        model.addAttribute("due", shown);
        model.addAttribute("count", due.size());
        model.addAttribute("logOnly", shown.stream().anyMatch(one -> one.patient() == null));
        List<UUID> named = shown.stream()
                .map(Recall.Due::patient)
                .filter(Objects::nonNull)
                .map(Patient::id)
                .toList();
        events.publishEvent(Audited.viewed(current.id(), "recalls", named));
        return "aftercare/recalls";
    }

    @PostMapping("/setup/recall")
    String recallAfter(
            @RequestParam(defaultValue = "") String months,
            @RequestParam(name = FormVersion.FIELD, defaultValue = "") String seen,
            RedirectAttributes redirect) {
        Reading reading = new Reading();
        int after = reading.required("months", reading.whole("months", months, 0, 6), "aftercare.allowed.recall")
                .filter(number -> number % 3 == 0)
                .orElse(-1);
        if (after < 0) {
            if (reading.clean()) {
                reading.refuse("months", months, "aftercare.allowed.recall");
            }
            throw Refused.invalid(reading.problems());
        }
        edits.save(seen, this::recallVersion, () -> {
                    rules.recallAfter(current.id(), after);
                    return true;
                })
                .orElseThrow(Refused::changedMeanwhile);
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/referrals/recalls";
    }

    private FormVersion recallVersion() {
        return FormVersion.of(policies.of(current.id()).recallMonths());
    }
}
