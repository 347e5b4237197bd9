package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.constraints.NotNull;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Method;
import org.earslot.page.Form;
import org.earslot.page.Refused;
import org.earslot.referral.Intake;
import org.earslot.referral.Overriding;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralRefusal;
import org.jspecify.annotations.Nullable;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The method of one referral: planned by whoever books, used against the table by a practitioner alone. */
@Controller
@RequestMapping("/referrals/{id}")
class MethodPages {

    /** What is planned or overridden. */
    record MethodForm(
            @NotNull(message = "{page.allowed.oneNeeded}") @Nullable
            Method method) {}

    private final ReferralPage page;
    private final ClinicReferrals referrals;
    private final Intake intake;
    private final Overriding overriding;
    private final CurrentClinic current;

    MethodPages(
            ReferralPage page, ClinicReferrals referrals, Intake intake, Overriding overriding, CurrentClinic current) {
        this.page = page;
        this.referrals = referrals;
        this.intake = intake;
        this.overriding = overriding;
        this.current = current;
    }

    @PostMapping("/method")
    String plan(@PathVariable UUID id, Form form, RedirectAttributes redirect) {
        Referral referral = referrals.referral(id);
        Method method = form.readOrRefuse(MethodForm.class).method();
        refuse(intake.plan(referral, method));
        return page.done(id, "referral.notice.method", redirect);
    }

    @PostMapping("/override")
    @PreAuthorize("hasRole('PRACTITIONER')")
    String override(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = referrals.referral(id);
        MethodForm asked = form.read(MethodForm.class);
        ReasonForm why = form.read(ReasonForm.class);
        UUID practitioner = current.practitionerId().orElseThrow(Refused::noPractitioner);
        if (!form.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.show(model, id, form.fields().filled(), form.byField());
        }
        refuse(overriding.override(referral, asked.method(), practitioner, why.reason(), current.who()));
        return page.done(id, "referral.notice.overridden", redirect);
    }

    @PostMapping("/override/{override}/withdraw")
    @PreAuthorize("hasRole('PRACTITIONER')")
    String withdraw(@PathVariable UUID id, @PathVariable UUID override, RedirectAttributes redirect) {
        if (!overriding.withdraw(referrals.referral(id), override)) {
            throw Refused.notFound("override");
        }
        return page.done(id, "referral.notice.withdrawn", redirect);
    }

    private void refuse(Optional<ReferralRefusal> refusal) {
        refusal.ifPresent(reason -> {
            throw Refused.of(List.of(reason));
        });
    }
}
