package org.earslot.referral.web;

import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Refused;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.Referrals;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.data.domain.Limit;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Finding a patient, and one patient with referrals. The search is posted, so that no name stands in an address. */
@Controller
@RequestMapping("/patients")
class PatientPages {

    private static final Limit FOUND = Limit.of(50);

    private final Patients patients;
    private final Referrals referrals;
    private final CurrentClinic current;
    private final ApplicationEventPublisher events;

    PatientPages(Patients patients, Referrals referrals, CurrentClinic current, ApplicationEventPublisher events) {
        this.patients = patients;
        this.referrals = referrals;
        this.current = current;
        this.events = events;
    }

    @GetMapping
    String ask(Model model) {
        model.addAttribute("sought", "");
        return "referral/patients";
    }

    @PostMapping
    String search(@RequestParam(defaultValue = "") String sought, Model model) {
        String start = sought.strip().toLowerCase(Locale.ROOT).replaceAll("[%_\\\\]", "");
        List<Patient> found = start.isEmpty() ? List.of() : patients.search(current.id(), start + "%", FOUND);
        model.addAttribute("sought", sought);
        model.addAttribute("found", found);
        return "referral/patients";
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, Model model) {
        Patient patient = patients.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("patient"));
        model.addAttribute("patient", patient);
        model.addAttribute("person", patient.details());
        model.addAttribute("referrals", referrals.findByClinicIdAndPatientIdOrderByReceivedOnDesc(current.id(), id));
        events.publishEvent(new Audited.Entry(current.id(), "patient-seen", "patient", id.toString(), null));
        return "referral/patient";
    }
}
