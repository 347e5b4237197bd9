package org.earslot.referral.web;

import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.PatientCautions;
import org.earslot.patient.Correspondence;
import org.earslot.patient.Duplicates;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientMerge;
import org.earslot.patient.PatientMerges;
import org.earslot.patient.Patients;
import org.earslot.patient.web.CorrespondencePages;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;

/** One patient, with referrals, cautions and merged records. */
@Controller
@RequestMapping("/patients")
class PatientPages {

    private final Patients patients;
    private final Referrals referrals;
    private final Duplicates duplicates;
    private final PatientMerges merges;
    private final PatientCautions cautions;
    private final ReferralAppointments appointments;
    private final ClinicReferrals shown;

    PatientPages(
            Patients patients,
            Referrals referrals,
            Duplicates duplicates,
            PatientMerges merges,
            PatientCautions cautions,
            ReferralAppointments appointments,
            ClinicReferrals shown) {
        this.patients = patients;
        this.referrals = referrals;
        this.duplicates = duplicates;
        this.merges = merges;
        this.cautions = cautions;
        this.appointments = appointments;
        this.shown = shown;
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, Model model) {
        Patient patient = shown.patient(id);
        model.addAttribute("patient", patient);
        model.addAttribute("titleOf", patient.displayName());
        model.addAttribute("person", patient.details());
        model.addAttribute("correspondences", Correspondence.values());
        model.addAttribute("correspondenceVersion", CorrespondencePages.version(patient));
        model.addAttribute("age", patient.details().ageOn(shown.today()).orElse(null));
        model.addAttribute("referrals", referrals.ofPatient(shown.clinicId(), id));
        List<PatientMerge> standing = merges.standing(shown.clinicId(), id);
        model.addAttribute("merges", standing);
        model.addAttribute("mergedNames", names(standing));
        List<Duplicates.Known> known = patient.merged() ? List.of() : duplicates.of(patient);
        model.addAttribute("known", known);
        model.addAttribute("cautions", cautions.inForce(shown.clinicId(), id, shown.today()));
        model.addAttribute(
                "unknown",
                cautions.summary(shown.clinicId(), id, CautionAnswers.NOT_ASKED, shown.today())
                        .unknown());
        model.addAttribute("corrected", cautions.corrected(shown.clinicId(), id));
        model.addAttribute("toCancel", patient.deceased() ? appointments.toCome(shown.clinicId(), id) : List.of());
        model.addAttribute("zone", shown.zone());
        shown.viewed("patient", List.of(id));
        shown.viewed(
                "may be the same person",
                known.stream().map(one -> one.patient().id()).toList());
        shown.viewed(
                "merged records",
                standing.stream()
                        .flatMap(merge -> Stream.of(merge.keptId(), merge.goneId()))
                        .filter(other -> !other.equals(id))
                        .toList());
        return "referral/patient";
    }

    private Map<UUID, String> names(List<PatientMerge> standing) {
        List<UUID> ids = standing.stream()
                .flatMap(merge -> Stream.of(merge.keptId(), merge.goneId()))
                .distinct()
                .toList();
        return patients.findByClinicIdAndIdIn(shown.clinicId(), ids).stream()
                .collect(Collectors.toMap(
                        Patient::id, patient -> patient.displayName() + " (" + patient.localNumber() + ")"));
    }
}
