package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.constraints.NotNull;
import java.util.List;
import java.util.UUID;
import java.util.function.Predicate;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Form;
import org.earslot.page.PlainText;
import org.earslot.page.Refused;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralRefusal;
import org.jspecify.annotations.Nullable;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What is done about a red flag. The receptionist passes on and never decides. */
@Controller
class RedFlagPages {

    private static final String CLINICIANS = "hasAnyRole('PRACTITIONER', 'LEAD')";

    /** The clinician that it goes to. */
    record ClinicianForm(
            @NotNull(message = "{referral.allowed.clinician}") @Nullable
            UUID clinician) {}

    /** What was said or done. */
    record WordsForm(
            @NotNull(message = "{referral.allowed.words}") @PlainText(max = 500) @Nullable
            String words) {}

    private final ReferralPage page;
    private final ClinicReferrals referrals;
    private final RedFlagTriage triage;
    private final CurrentClinic current;

    RedFlagPages(ReferralPage page, ClinicReferrals referrals, RedFlagTriage triage, CurrentClinic current) {
        this.page = page;
        this.referrals = referrals;
        this.triage = triage;
        this.current = current;
    }

    @PostMapping("/referrals/{id}/red-flag/clinician")
    String name(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = referrals.referral(id);
        ClinicianForm named = form.read(ClinicianForm.class);
        if (!form.clean()) {
            return again(model, id, form, response);
        }
        return done(triage.name(referral, named.clinician(), current.who()), id, redirect);
    }

    @PostMapping("/referrals/{id}/red-flag/told")
    String told(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = referrals.referral(id);
        return withWords(
                form, "told", model, id, redirect, response, words -> triage.told(referral, words, current.who()));
    }

    @PostMapping("/referrals/{id}/red-flag/not-reached")
    String notReached(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = referrals.referral(id);
        return withWords(
                form,
                "told",
                model,
                id,
                redirect,
                response,
                words -> triage.notReached(referral, words, current.who()));
    }

    @PostMapping("/referrals/{id}/red-flag/see-here")
    @PreAuthorize(CLINICIANS)
    String seeHere(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = referrals.referral(id);
        current.practitionerId().orElseThrow(Refused::noPractitioner);
        return withWords(
                form,
                "decided",
                model,
                id,
                redirect,
                response,
                words -> triage.seeHere(referral, words, current.who()));
    }

    @PostMapping("/referrals/{id}/red-flag/sent-on")
    @PreAuthorize(CLINICIANS)
    String sendOn(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = referrals.referral(id);
        current.practitionerId().orElseThrow(Refused::noPractitioner);
        return withWords(
                form, "decided", model, id, redirect, response, words -> triage.sendOn(referral, words, current.who()));
    }

    @PostMapping("/referrals/{id}/red-flag/cleared")
    @PreAuthorize(CLINICIANS)
    String clear(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = referrals.referral(id);
        current.practitionerId().orElseThrow(Refused::noPractitioner);
        return withWords(
                form, "decided", model, id, redirect, response, words -> triage.clear(referral, words, current.who()));
    }

    /** A step that needs words; the same field must not show what was typed in another form. */
    private String withWords(
            Form form,
            String field,
            Model model,
            UUID id,
            RedirectAttributes redirect,
            HttpServletResponse response,
            Predicate<String> step) {
        String words = form.read(WordsForm.class, name -> field).words();
        return form.clean() ? done(step.test(words), id, redirect) : again(model, id, form, response);
    }

    private String again(Model model, UUID id, Form form, HttpServletResponse response) {
        response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        return page.show(model, id, form.fields().filled(), form.byField());
    }

    private String done(boolean done, UUID id, RedirectAttributes redirect) {
        if (!done) {
            throw Refused.of(List.of(ReferralRefusal.NO_RED_FLAG_OPEN));
        }
        return page.done(id, "referral.notice.redFlag", redirect);
    }
}
