package org.earslot.offers;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.earslot.booking.VisitPlans;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Referral;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The methods of a referral side by side, as they suit on one date, each with its time in room. */
@Service
public class MethodChoices {

    private final MethodSuitability suitability;
    private final Estimates estimates;
    private final Patients patients;
    private final Practitioners practitioners;

    MethodChoices(MethodSuitability suitability, Estimates estimates, Patients patients, Practitioners practitioners) {
        this.suitability = suitability;
        this.estimates = estimates;
        this.patients = patients;
        this.practitioners = practitioners;
    }

    /**
     * One method.
     *
     * @param overridden whether a practitioner has overridden what forbids it
     * @param estimate how long it takes; null if it is not offered
     * @param heldBy the names of those who are trained in it and see this age
     */
    public record Choice(
            Suitability suits, boolean overridden, @Nullable Estimate estimate, List<String> heldBy) {

        public Method method() {
            return suits.method();
        }

        /** Whether it may be planned. */
        public boolean offered() {
            return estimate != null;
        }
    }

    /** How long the method planned takes, whoever does it. */
    @Transactional(readOnly = true)
    public Estimate estimate(Referral referral) {
        Patient patient = patients.findByClinicIdAndId(referral.clinicId(), referral.patientId())
                .orElse(null);
        return estimates.estimate(referral.clinicId(), VisitPlans.of(referral, patient, null));
    }

    /** Every method; one that is contraindicated on that date is shown and not offered. */
    @Transactional(readOnly = true)
    public List<Choice> of(Referral referral, LocalDate date) {
        ClinicId clinicId = referral.clinicId();
        Patient patient =
                patients.findByClinicIdAndId(clinicId, referral.patientId()).orElse(null);
        List<Practitioner> staff = practitioners.findByClinicIdOrderByName(clinicId).stream()
                .filter(Practitioner::active)
                .filter(one -> one.ages()
                        .includes(Optional.ofNullable(patient)
                                .flatMap(person -> person.details().ageOn(date))))
                .toList();
        List<Suitability> all = suitability.judge(referral, date);
        List<Suitability> offered = all.stream()
                .filter(suits -> !suits.contraindicated() || suitability.overridden(referral, suits))
                .toList();
        List<Estimate> each = estimates.estimateAll(
                clinicId,
                offered.stream()
                        .map(suits -> VisitPlans.of(referral, patient, null, suits.method()))
                        .toList());
        return all.stream()
                .map(suits -> new Choice(
                        suits,
                        suits.contraindicated() && offered.contains(suits),
                        IntStream.range(0, offered.size())
                                .filter(i -> offered.get(i).equals(suits))
                                .mapToObj(each::get)
                                .findFirst()
                                .orElse(null),
                        staff.stream()
                                .filter(one -> one.methods().contains(suits.method()))
                                .map(Practitioner::name)
                                .collect(Collectors.toList())))
                .toList();
    }
}
