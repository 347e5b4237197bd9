package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.constraints.NotNull;
import java.util.List;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.earslot.caution.Mark;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.Form;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.PlainText;
import org.earslot.page.Refused;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagText;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.RedFlags;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralPolicies;
import org.jspecify.annotations.Nullable;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What is done about a red flag, and the lead's words for each. The receptionist passes on and never decides. */
@Controller
class RedFlagPages {

    private static final String CLINICIANS = "hasAnyRole('PRACTITIONER', 'LEAD')";

    /** The clinician that it goes to. */
    record ClinicianForm(
            @NotNull(message = "{referral.allowed.clinician}") @Nullable
            UUID clinician) {}

    /** The clinician that red flags go to; null for none. */
    record GoesToForm(@Nullable UUID clinician) {}

    /** What was said or done. */
    record WordsForm(
            @NotNull(message = "{referral.allowed.words}") @PlainText(max = 500) @Nullable
            String words) {}

    /** The lead's words for a red flag. */
    record TextForm(
            @NotNull(message = "{referral.allowed.ask}") @PlainText(max = 500) @Nullable
            String ask,

            @NotNull(message = "{referral.allowed.sendsTo}") @PlainText(max = 500) @Nullable
            String sendsTo,

            @NotNull(message = "{referral.allowed.source}") @PlainText(max = 500) @Nullable
            String source) {}

    private final ReferralPage page;
    private final RedFlagTriage triage;
    private final RedFlags redFlags;
    private final Edits edits;
    private final ReferralPolicies policies;
    private final CurrentClinic current;
    private final Messages messages;

    RedFlagPages(
            ReferralPage page,
            RedFlagTriage triage,
            RedFlags redFlags,
            Edits edits,
            ReferralPolicies policies,
            CurrentClinic current,
            Messages messages) {
        this.page = page;
        this.triage = triage;
        this.redFlags = redFlags;
        this.edits = edits;
        this.policies = policies;
        this.current = current;
        this.messages = messages;
    }

    @PostMapping("/referrals/{id}/red-flag/clinician")
    String name(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = page.referral(id);
        ClinicianForm named = form.read(ClinicianForm.class);
        if (!form.clean()) {
            return again(model, id, form, response);
        }
        return done(triage.name(referral, named.clinician(), current.who()), id, redirect);
    }

    @PostMapping("/referrals/{id}/red-flag/told")
    String told(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = page.referral(id);
        return withWords(
                form, "told", model, id, redirect, response, words -> triage.told(referral, words, current.who()));
    }

    @PostMapping("/referrals/{id}/red-flag/not-reached")
    String notReached(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = page.referral(id);
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
        Referral referral = page.referral(id);
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
        Referral referral = page.referral(id);
        current.practitionerId().orElseThrow(Refused::noPractitioner);
        return withWords(
                form, "decided", model, id, redirect, response, words -> triage.sendOn(referral, words, current.who()));
    }

    @PostMapping("/referrals/{id}/red-flag/cleared")
    @PreAuthorize(CLINICIANS)
    String clear(
            @PathVariable UUID id, Form form, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Referral referral = page.referral(id);
        current.practitionerId().orElseThrow(Refused::noPractitioner);
        return withWords(
                form, "decided", model, id, redirect, response, words -> triage.clear(referral, words, current.who()));
    }

    @GetMapping("/setup/red-flags")
    String texts(Model model, Form nothing) {
        return texts(model, "", nothing);
    }

    @PostMapping("/setup/red-flags")
    @PreAuthorize("hasRole('LEAD')")
    String goTo(Form form, RedirectAttributes redirect) {
        UUID id = form.read(GoesToForm.class).clinician();
        if (!form.clean()) {
            throw Refused.notFound("clinician");
        }
        boolean sent = edits.save(
                        form.fields().get(FormVersion.FIELD),
                        this::goesTo,
                        () -> triage.sendRedFlagsTo(current.id(), id))
                .orElseThrow(Refused::changedMeanwhile);
        if (!sent) {
            throw Refused.notFound("clinician");
        }
        return saved(redirect);
    }

    @PostMapping("/setup/red-flags/{flag}")
    String say(
            @PathVariable("flag") String code,
            Form form,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        RedFlag flag = RedFlag.of(code).orElseThrow(() -> Refused.notFound("red flag"));
        boolean signsOff = !form.fields().get("signOff").isEmpty();
        if (signsOff) {
            current.practitionerId().orElseThrow(Refused::noPractitioner);
        }
        TextForm given = form.read(TextForm.class);
        if (!form.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return texts(model, code, form);
        }
        Mark mark = signsOff ? Mark.SIGNED_OFF : Mark.CHANGED_HERE;
        RedFlagText text = new RedFlagText(flag, given.ask(), given.sendsTo(), given.source(), mark);
        boolean said = edits.save(
                        form.fields().get(FormVersion.FIELD),
                        () -> FormVersion.ofText(text(flag).toString()),
                        () -> {
                            redFlags.say(current.id(), text, current.who());
                            return true;
                        })
                .isPresent();
        if (!said) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            model.addAttribute("changes", changes(text(flag)));
            return texts(model, code, form);
        }
        return saved(redirect);
    }

    private RedFlagText text(RedFlag flag) {
        return redFlags.texts(current.id()).stream()
                .filter(one -> one.flag() == flag)
                .findFirst()
                .orElseThrow();
    }

    private List<ChangedField> changes(RedFlagText now) {
        return List.of(
                new ChangedField(messages.say("referral.redFlags.ask"), now.ask(), false),
                new ChangedField(messages.say("referral.redFlags.sendsTo"), now.sendsTo(), false),
                new ChangedField(messages.say("referral.redFlags.source"), now.source(), false));
    }

    private FormVersion goesTo() {
        return FormVersion.ofText(
                String.valueOf(policies.of(current.id()).redFlagClinicianId().orElse(null)));
    }

    private String texts(Model model, String refused, Form form) {
        model.addAttribute("texts", redFlags.texts(current.id()));
        model.addAttribute("clinicians", page.clinicians());
        model.addAttribute(
                "goesTo", policies.of(current.id()).redFlagClinicianId().orElse(null));
        model.addAttribute("maySignOff", current.practitionerId().isPresent());
        model.addAttribute("goesToVersion", goesTo());
        model.addAttribute(
                "versions",
                redFlags.texts(current.id()).stream()
                        .collect(Collectors.toMap(
                                text -> text.flag().code(), text -> FormVersion.ofText(text.toString()))));
        model.addAttribute("refused", refused);
        model.addAttribute("typed", form.fields().filled());
        model.addAttribute("problems", form.byField());
        return "referral/red-flags";
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
            throw Refused.conflict("no-red-flag-open", messages.say("referral.refused.noRedFlagOpen"));
        }
        notice(redirect, "referral.notice.redFlag");
        return "redirect:/referrals/" + id;
    }

    private String saved(RedirectAttributes redirect) {
        notice(redirect, "referral.notice.saved");
        return "redirect:/setup/red-flags";
    }

    private void notice(RedirectAttributes redirect, String key) {
        redirect.addFlashAttribute("notice", messages.say(key));
    }
}
