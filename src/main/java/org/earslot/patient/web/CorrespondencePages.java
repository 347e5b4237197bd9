package org.earslot.patient.web;

import jakarta.validation.constraints.NotNull;
import java.util.UUID;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Edits;
import org.earslot.page.Form;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.patient.Correspondence;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientCorrespondence;
import org.earslot.patient.Patients;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** On the page of a patient: no recall, moved, or deceased. */
@Controller
public class CorrespondencePages {

    /** What is chosen. */
    record Chosen(
            @NotNull(message = "{page.allowed.oneNeeded}") @Nullable
            Correspondence correspondence) {}

    private final PatientCorrespondence correspondence;
    private final Patients patients;
    private final Edits edits;
    private final CurrentClinic current;
    private final Messages messages;

    CorrespondencePages(
            PatientCorrespondence correspondence,
            Patients patients,
            Edits edits,
            CurrentClinic current,
            Messages messages) {
        this.correspondence = correspondence;
        this.patients = patients;
        this.edits = edits;
        this.current = current;
        this.messages = messages;
    }

    /** Of the form of a patient. */
    public static FormVersion version(Patient patient) {
        return FormVersion.ofText(patient.correspondence().code());
    }

    @PostMapping("/patients/{id}/correspondence")
    String record(@PathVariable UUID id, Form form, RedirectAttributes redirect) {
        Chosen chosen = form.readOrRefuse(Chosen.class);
        Patient patient = patients.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("patient"));
        edits.save(
                        form.fields().get(FormVersion.FIELD),
                        () -> version(patient),
                        () -> correspondence.record(current.id(), id, chosen.correspondence()))
                .orElseThrow(Refused::changedMeanwhile);
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/patients/" + id;
    }
}
