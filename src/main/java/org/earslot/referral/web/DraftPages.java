package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.referral.Drafting;
import org.earslot.referral.ReferralDraft;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The referral form kept while it is filled in: by itself where scripts run, by a button where not. */
@Controller
@RequestMapping("/referrals/draft")
class DraftPages {

    private static final List<String> NOT_KEPT =
            List.of("_csrf", "formKey", "samePerson", "newNumber", "another", "then");

    private final Drafting drafting;
    private final ClinicReferrals referrals;
    private final KnownPatients knownPatients;
    private final ReferralFormPage page;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    DraftPages(
            Drafting drafting,
            ClinicReferrals referrals,
            KnownPatients knownPatients,
            ReferralFormPage page,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.drafting = drafting;
        this.referrals = referrals;
        this.knownPatients = knownPatients;
        this.page = page;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    /** Answers a script with the part of the page that says so, and a button with the page itself. */
    @PostMapping
    @Nullable
    String keep(
            Form form,
            @RequestHeader(name = "HX-Request", required = false) Optional<String> script,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        ReferralReading reading = new ReferralReading(form);
        UUID id = reading.formKey().orElseGet(UUID::randomUUID);
        Map<String, List<String>> typed = form.fields().allBut(NOT_KEPT);
        if (referrals.savedAs(id).isPresent()) {
            // Sent before the form was saved, come after: what it was kept for is done.
            return nothing(response);
        }
        ReferralDraft draft = keep(id, typed);
        if (script.isEmpty()) {
            redirect.addFlashAttribute("notice", messages.say("referral.draft.kept"));
            return "redirect:/referrals/draft/" + draft.id();
        }
        model.addAttribute("draft", draft);
        model.addAttribute("savedAt", clock.local(current.id(), draft.savedAt()));
        if (form.fields().get("localNumber").isEmpty()) {
            model.addAttribute("known", knownPatients.of(reading.person()));
        }
        response.setHeader("Cache-Control", "no-store");
        return "referral/draft :: saved";
    }

    /** The form goes on about a patient on record, with what was typed so far. */
    @PostMapping("/patient")
    String about(Form form, RedirectAttributes redirect) {
        ReferralReading reading = new ReferralReading(form);
        UUID id = reading.formKey().orElseGet(UUID::randomUUID);
        Patient patient =
                referrals.known(form.fields().get("samePerson")).orElseThrow(() -> Refused.notFound("patient"));
        keep(id, page.about(patient, form.fields()).allBut(NOT_KEPT));
        redirect.addAttribute("form", id);
        return "redirect:/referrals/new";
    }

    private ReferralDraft keep(UUID id, Map<String, List<String>> typed) {
        return drafting.keep(current.id(), id, typed, current.who())
                .orElseThrow(
                        () -> Refused.invalid("draft", "", "referral.allowed.draft", String.valueOf(Drafting.LONGEST)));
    }

    private static @Nullable String nothing(HttpServletResponse response) {
        response.setStatus(HttpServletResponse.SC_NO_CONTENT);
        return null;
    }

    @GetMapping("/{id}")
    String goOn(@PathVariable UUID id, Model model) {
        ReferralDraft draft = draft(id);
        FormFields form = new FormFields(draft.typed());
        form.put("formKey", draft.id());
        referrals.viewed(draft);
        return page.show(model, form, "/referrals");
    }

    @PostMapping("/{id}/drop")
    String drop(@PathVariable UUID id, RedirectAttributes redirect) {
        draft(id);
        drafting.drop(current.id(), id);
        redirect.addFlashAttribute("notice", messages.say("referral.draft.dropped"));
        return "redirect:/referrals";
    }

    private ReferralDraft draft(UUID id) {
        return drafting.find(current.id(), id).orElseThrow(() -> Refused.notFound("draft"));
    }
}
