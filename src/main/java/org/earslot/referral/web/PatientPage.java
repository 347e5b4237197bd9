package org.earslot.referral.web;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.caution.CautionAnswers;
import org.earslot.caution.PatientCautions;
import org.earslot.page.FormFields;
import org.earslot.page.FormVersion;
import org.earslot.page.Problem;
import org.earslot.patient.Correspondence;
import org.earslot.patient.Duplicates;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientMerge;
import org.earslot.patient.PatientMerges;
import org.earslot.patient.Patients;
import org.earslot.patient.web.CorrespondencePages;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralAppointments.Booked;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The page of a patient: appointments first, then who it is, cautions, referrals and merged records. */
@Component
class PatientPage {

    private final Patients patients;
    private final Referrals referrals;
    private final Duplicates duplicates;
    private final PatientMerges merges;
    private final PatientCautions cautions;
    private final ReferralAppointments appointments;
    private final ClinicReferrals shown;

    PatientPage(
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

    /** The version of the form of the details. */
    static FormVersion version(Patient patient) {
        return FormVersion.of(patient.version());
    }

    /**
     * @param typed what the form of the details shows
     *
     * @param problems by field
     */
    String show(Model model, Patient patient, FormFields typed, Map<String, Problem> problems) {
        UUID id = patient.id();
        model.addAttribute("values", typed);
        model.addAttribute("problems", problems);
        model.addAttribute("detailsVersion", version(patient));
        addAppointments(model, patient);
        model.addAttribute("patient", patient);
        model.addAttribute("titleOf", patient.displayName());
        model.addAttribute("person", patient.details());
        model.addAttribute("correspondences", Correspondence.values());
        model.addAttribute("correspondenceVersion", CorrespondencePages.version(patient));
        model.addAttribute("age", patient.details().ageOn(shown.today()).orElse(null));
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

    private void addAppointments(Model model, Patient patient) {
        List<Booked> all = appointments.ofPatient(shown.clinicId(), patient.id());
        LocalDate today = shown.today();
        Predicate<Booked> coming =
                one -> one.toCome() && !one.start().toLocalDate().isBefore(today);
        List<Referral> referred = referrals.ofPatient(shown.clinicId(), patient.id());
        model.addAttribute("today", today);
        model.addAttribute(
                "upcoming",
                all.stream()
                        .filter(coming)
                        .sorted(Comparator.comparing(Booked::start))
                        .toList());
        model.addAttribute("past", all.stream().filter(coming.negate()).toList());
        model.addAttribute("logged", appointments.logged(shown.clinicId(), patient.localNumber()));
        model.addAttribute("referrals", referred);
        model.addAttribute(
                "byReferral",
                all.stream()
                        .filter(one -> one.referralId() != null)
                        .collect(Collectors.toMap(
                                Booked::referralId, Function.identity(), (latest, earlier) -> latest)));
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
