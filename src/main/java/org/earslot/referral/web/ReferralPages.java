package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.page.Form;
import org.earslot.page.Refused;
import org.earslot.referral.Intake;
import org.earslot.referral.ReferralRefusal;
import org.earslot.referral.ReferralStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One referral, moved to the waiting list or to its end. */
@Controller
@RequestMapping("/referrals")
class ReferralPages {

    private final ReferralPage page;
    private final ClinicReferrals referrals;
    private final Intake intake;

    ReferralPages(ReferralPage page, ClinicReferrals referrals, Intake intake) {
        this.page = page;
        this.referrals = referrals;
        this.intake = intake;
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, @RequestParam Map<String, String> asked, Model model) {
        return page.show(model, id, asked, Map.of());
    }

    @PostMapping("/{id}/waiting")
    String wait(@PathVariable UUID id, RedirectAttributes redirect) {
        refuse(intake.moveOn(referrals.referral(id), ReferralStatus.WAITING));
        return page.done(id, "referral.notice.waiting", redirect);
    }

    @PostMapping("/{id}/closed")
    String close(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        ReasonForm why = form.read(ReasonForm.class);
        if (!form.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.show(model, id, Map.of("closing", "yes"), form.byField());
        }
        refuse(intake.close(referrals.referral(id), why.reason()));
        return page.done(id, "referral.notice.closed", redirect);
    }

    @PostMapping("/{id}/reopened")
    String reopen(@PathVariable UUID id, RedirectAttributes redirect) {
        refuse(intake.reopen(referrals.referral(id), referrals.taker(null)));
        return page.done(id, "referral.notice.reopened", redirect);
    }

    private void refuse(Optional<ReferralRefusal> refusal) {
        refusal.ifPresent(reason -> {
            throw Refused.of(List.of(reason));
        });
    }
}
