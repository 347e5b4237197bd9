package org.earslot.patient.web;

import java.util.UUID;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Word;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.patient.Correspondence;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientCorrespondence;
import org.earslot.patient.Patients;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** On the page of a patient: no recall, moved, or deceased. */
@Controller
public class CorrespondencePages {

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
    String record(
            @PathVariable UUID id,
            @RequestParam(name = "correspondence", defaultValue = "") String code,
            @RequestParam(name = FormVersion.FIELD, defaultValue = "") String seen,
            RedirectAttributes redirect) {
        Reading reading = new Reading();
        Correspondence chosen = reading.required(
                        "correspondence",
                        reading.word("correspondence", code, Correspondence::of, Word.codes(Correspondence.values())),
                        "one of " + String.join(", ", Word.codes(Correspondence.values())))
                .orElseThrow(() -> Refused.invalid(reading.problems()));
        Patient patient = patients.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("patient"));
        edits.save(seen, () -> version(patient), () -> correspondence.record(current.id(), id, chosen))
                .orElseThrow(Refused::changedMeanwhile);
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/patients/" + id;
    }
}
