package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.page.Edits;
import org.earslot.page.Form;
import org.earslot.page.FormFields;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.PatientRegister;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One patient, whose details can be corrected. */
@Controller
@RequestMapping("/patients")
class PatientPages {

    private final PatientPage page;
    private final ClinicReferrals shown;
    private final PatientRegister register;
    private final Edits edits;
    private final Messages messages;

    PatientPages(PatientPage page, ClinicReferrals shown, PatientRegister register, Edits edits, Messages messages) {
        this.page = page;
        this.shown = shown;
        this.register = register;
        this.edits = edits;
        this.messages = messages;
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, Model model) {
        Patient patient = shown.patient(id);
        FormFields known = new FormFields();
        known.put(patient.details());
        return page.show(model, patient, known, Map.of());
    }

    @PostMapping("/{id}/details")
    String correct(
            @PathVariable UUID id, Form sent, Model model, RedirectAttributes redirect, HttpServletResponse response) {
        Patient patient = shown.patient(id);
        ReferralReading reading = new ReferralReading(sent);
        PatientDetails details = reading.person();
        reading.identity(details, patient.details().familyName() == null);
        if (!reading.problems().isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.show(model, patient, sent.fields(), reading.byField());
        }
        Optional<Boolean> saved =
                edits.save(sent.fields().get(FormVersion.FIELD), () -> PatientPage.version(shown.patient(id)), () -> {
                    register.amend(shown.patient(id), details, shown.who());
                    return true;
                });
        if (saved.isEmpty()) {
            throw Refused.changedMeanwhile();
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/patients/" + id;
    }
}
