package org.earslot.aftercare;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.earslot.aftercare.FollowUps.Way;
import org.earslot.booking.Appointment;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.ReferralDetails;
import org.earslot.visit.Visit;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** By which methods a follow-up could be done here, how each suits and how long it takes. */
@Component
class FollowUpWays {

    private final Patients patients;
    private final Practitioners practitioners;
    private final MethodSuitability suitability;
    private final Estimates estimates;
    private final ClinicClock clock;

    FollowUpWays(
            Patients patients,
            Practitioners practitioners,
            MethodSuitability suitability,
            Estimates estimates,
            ClinicClock clock) {
        this.patients = patients;
        this.practitioners = practitioners;
        this.suitability = suitability;
        this.estimates = estimates;
        this.clock = clock;
    }

    /** The methods that are not contraindicated and for which somebody here is trained, the most suitable first. */
    List<Way> of(Appointment appointment, FollowUpDetails details, Ears ears, boolean spent) {
        ClinicId clinicId = appointment.clinicId();
        LocalDate today = clock.today(clinicId);
        Patient patient = patients.known(clinicId, details.visit().patientRef()).orElse(null);
        List<Practitioner> staff = practitioners.findByClinicIdOrderByName(clinicId).stream()
                .filter(Practitioner::active)
                .filter(one -> one.ages()
                        .includes(Optional.ofNullable(patient)
                                .flatMap(person -> person.details().ageOn(today))))
                .toList();
        List<Suitability> suited = Arrays.stream(Method.values())
                .filter(method -> !(spent && method == Method.IRRIGATION))
                .filter(method -> staff.stream().anyMatch(one -> one.methods().contains(method)))
                .map(method -> judged(appointment, details.by(method, ears, null), today))
                .filter(suits -> !suits.contraindicated())
                .sorted(Comparator.comparing((Suitability suits) -> suits.verdict())
                        .thenComparing(suits -> suits.reasons().size())
                        .thenComparing(Suitability::method))
                .toList();
        List<Estimate> each = estimates.estimateAll(
                clinicId,
                suited.stream()
                        .map(suits -> plan(details.by(suits.method(), ears, null), patient, details.visit()))
                        .toList());
        return IntStream.range(0, suited.size())
                .mapToObj(i -> new Way(
                        suited.get(i).method(),
                        suited.get(i),
                        each.get(i),
                        staff.stream()
                                .filter(one ->
                                        one.methods().contains(suited.get(i).method()))
                                .map(Practitioner::name)
                                .toList()))
                .toList();
    }

    private Suitability judged(Appointment appointment, ReferralDetails said, LocalDate today) {
        ClinicId clinicId = appointment.clinicId();
        Method method = said.request().methodPlanned();
        return appointment
                .patientId()
                .map(patient -> suitability.judge(clinicId, patient, said, method, today))
                .orElseGet(() -> suitability.judge(clinicId, said, method, today));
    }

    private static VisitPlan plan(ReferralDetails said, @Nullable Patient patient, Visit visit) {
        return new VisitPlan(
                visit.patientRef(),
                null,
                said.request().methodPlanned(),
                said.request().ears(),
                said.request().firstVisit(),
                patient == null ? visit.hearingAid() : patient.details().hearingAid(),
                said.cautions().confirmed(),
                said.request().softenerDays(),
                said.reported().byEar(),
                said.source().referrer());
    }
}
