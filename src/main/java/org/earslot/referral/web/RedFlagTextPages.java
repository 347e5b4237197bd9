package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.constraints.NotNull;
import java.util.List;
import java.util.UUID;
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
import org.earslot.referral.ReferralPolicies;
import org.jspecify.annotations.Nullable;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The lead's words for each red flag, and the clinician that red flags go to. */
@Controller
class RedFlagTextPages {

    /** The clinician that red flags go to; null for none. */
    record GoesToForm(@Nullable UUID clinician) {}

    /** The lead's words for a red flag. */
    record TextForm(
            @NotNull(message = "{referral.allowed.ask}") @PlainText(max = 500) @Nullable
            String ask,

            @NotNull(message = "{referral.allowed.sendsTo}") @PlainText(max = 500) @Nullable
            String sendsTo,

            @NotNull(message = "{referral.allowed.source}") @PlainText(max = 500) @Nullable
            String source) {}

    private final RedFlags redFlags;
    private final RedFlagSection section;
    private final RedFlagTriage triage;
    private final ReferralPolicies policies;
    private final Edits edits;
    private final CurrentClinic current;
    private final Messages messages;

    RedFlagTextPages(
            RedFlags redFlags,
            RedFlagSection section,
            RedFlagTriage triage,
            ReferralPolicies policies,
            Edits edits,
            CurrentClinic current,
            Messages messages) {
        this.redFlags = redFlags;
        this.section = section;
        this.triage = triage;
        this.policies = policies;
        this.edits = edits;
        this.current = current;
        this.messages = messages;
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
        RedFlag flag = RedFlag.of(code).orElseThrow(() -> Refused.notFound("red-flag"));
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
        model.addAttribute("clinicians", section.clinicians());
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

    private String saved(RedirectAttributes redirect) {
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/setup/red-flags";
    }
}
