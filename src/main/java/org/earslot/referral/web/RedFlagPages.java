package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.earslot.caution.Mark;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagText;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.RedFlags;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralPolicies;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What is done about a red flag, and the lead's words for each. The receptionist passes on and never decides. */
@Controller
class RedFlagPages {

    private static final String CLINICIANS = "hasAnyRole('PRACTITIONER', 'LEAD')";
    private static final int LONGEST = 500;

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
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Referral referral = page.referral(id);
        Reading reading = new Reading();
        Optional<UUID> clinician = reading.required(
                "clinician", reading.id("clinician", typed.get("clinician")), "a clinician of the list");
        if (clinician.isEmpty()) {
            return again(model, id, typed, reading, response);
        }
        return done(triage.name(referral, clinician.get(), current.who()), id, redirect);
    }

    @PostMapping("/referrals/{id}/red-flag/told")
    String told(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Referral referral = page.referral(id);
        return withWords(
                typed, "told", model, id, redirect, response, words -> triage.told(referral, words, current.who()));
    }

    @PostMapping("/referrals/{id}/red-flag/not-reached")
    String notReached(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Referral referral = page.referral(id);
        return withWords(
                typed,
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
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Referral referral = page.referral(id);
        current.practitionerId().orElseThrow(Refused::noPractitioner);
        return withWords(
                typed,
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
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Referral referral = page.referral(id);
        current.practitionerId().orElseThrow(Refused::noPractitioner);
        return withWords(
                typed,
                "decided",
                model,
                id,
                redirect,
                response,
                words -> triage.sendOn(referral, words, current.who()));
    }

    @PostMapping("/referrals/{id}/red-flag/cleared")
    @PreAuthorize(CLINICIANS)
    String clear(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Referral referral = page.referral(id);
        current.practitionerId().orElseThrow(Refused::noPractitioner);
        return withWords(
                typed, "decided", model, id, redirect, response, words -> triage.clear(referral, words, current.who()));
    }

    @GetMapping("/setup/red-flags")
    String texts(Model model) {
        return texts(model, "", Map.of(), new Reading());
    }

    @PostMapping("/setup/red-flags")
    @PreAuthorize("hasRole('LEAD')")
    String goTo(
            @RequestParam(defaultValue = "") String clinician,
            @RequestParam(name = FormVersion.FIELD, defaultValue = "") String seen,
            RedirectAttributes redirect) {
        Reading reading = new Reading();
        UUID id = reading.id("clinician", clinician).orElse(null);
        if (!reading.clean()) {
            throw Refused.notFound("clinician");
        }
        boolean sent = edits.save(seen, this::goesTo, () -> triage.sendRedFlagsTo(current.id(), id))
                .orElseThrow(Refused::changedMeanwhile);
        if (!sent) {
            throw Refused.notFound("clinician");
        }
        return saved(redirect);
    }

    @PostMapping("/setup/red-flags/{flag}")
    String say(
            @PathVariable("flag") String code,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        RedFlag flag = RedFlag.of(code).orElseThrow(() -> Refused.notFound("red flag"));
        boolean signsOff = typed.containsKey("signOff");
        if (signsOff) {
            current.practitionerId().orElseThrow(Refused::noPractitioner);
        }
        Reading reading = new Reading();
        Optional<String> ask = reading.required("ask", reading.text("ask", typed.get("ask"), LONGEST), "the question");
        Optional<String> sendsTo =
                reading.required("sendsTo", reading.text("sendsTo", typed.get("sendsTo"), LONGEST), "where to");
        Optional<String> source =
                reading.required("source", reading.text("source", typed.get("source"), LONGEST), "a source");
        if (ask.isEmpty() || sendsTo.isEmpty() || source.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return texts(model, code, typed, reading);
        }
        Mark mark = signsOff ? Mark.SIGNED_OFF : Mark.CHANGED_HERE;
        RedFlagText text = new RedFlagText(flag, ask.get(), sendsTo.get(), source.get(), mark);
        boolean said = edits.save(
                        typed.get(FormVersion.FIELD),
                        () -> FormVersion.ofText(text(flag).toString()),
                        () -> {
                            redFlags.say(current.id(), text, current.who());
                            return true;
                        })
                .isPresent();
        if (!said) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            model.addAttribute("changes", changes(text(flag)));
            return texts(model, code, typed, reading);
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

    private String texts(Model model, String refused, Map<String, String> typed, Reading reading) {
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
        model.addAttribute("typed", typed);
        model.addAttribute("problems", reading.byField());
        return "referral/red-flags";
    }

    /** A step that needs words; the same field must not show what was typed in another form. */
    private String withWords(
            Map<String, String> typed,
            String field,
            Model model,
            UUID id,
            RedirectAttributes redirect,
            HttpServletResponse response,
            Predicate<String> step) {
        Reading reading = new Reading();
        Optional<String> words =
                reading.required(field, reading.text(field, typed.get(field), LONGEST), "what was said or done");
        return words.isEmpty()
                ? again(model, id, typed, reading, response)
                : done(step.test(words.get()), id, redirect);
    }

    private String again(
            Model model, UUID id, Map<String, String> typed, Reading reading, HttpServletResponse response) {
        response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        return page.show(model, id, new HashMap<>(typed), reading.byField());
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
