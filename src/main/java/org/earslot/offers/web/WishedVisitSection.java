package org.earslot.offers.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.offers.Slots;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Referral;
import org.earslot.referral.SoftenerRule;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The visit that a place is looked for: what the referral says, and who may do it. */
@Component
class WishedVisitSection {

    private final Patients patients;
    private final Practitioners practitioners;
    private final SoftenerRule softener;
    private final MethodSuitability suitability;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    WishedVisitSection(
            Patients patients,
            Practitioners practitioners,
            SoftenerRule softener,
            MethodSuitability suitability,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.patients = patients;
        this.practitioners = practitioners;
        this.softener = softener;
        this.suitability = suitability;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    void add(Model model, Optional<Appointment> moved, Optional<Referral> referral) {
        ClinicId clinic = current.id();
        model.addAttribute("referral", referral.orElse(null));
        model.addAttribute("said", referral.map(Referral::details).orElse(null));
        model.addAttribute(
                "softener",
                referral.map(one -> softener.advice(one, one.details().request().ears(), clock.today(clinic)))
                        .orElse(null));
        model.addAttribute(
                "unknownCautions", referral.map(suitability::unknownCautions).orElse(List.of()));
        model.addAttribute("moved", moved.orElse(null));
        model.addAttribute(
                "movedAt",
                moved.map(one -> clock.local(clinic, one.place().start())).orElse(null));
        Optional<Patient> person = moved.flatMap(Appointment::patientId)
                .or(() -> referral.map(Referral::patientId))
                .flatMap(id -> patients.findByClinicIdAndId(clinic, id));
        model.addAttribute("practitioners", able(referral.orElse(null), person));
        person.ifPresent(patient -> {
            model.addAttribute("patient", patient);
            events.publishEvent(Audited.viewed(clinic, "slots", List.of(patient.id())));
        });
    }

    /** Those trained in the method who see this age on a day that is looked at. */
    private List<Practitioner> able(@Nullable Referral referral, Optional<Patient> person) {
        LocalDate today = clock.today(current.id());
        List<Optional<Integer>> ages = Stream.of(today, today.plusWeeks(Slots.WEEKS))
                .map(day -> person.flatMap(one -> one.details().ageOn(day)))
                .toList();
        return practitioners.findByClinicIdOrderByName(current.id()).stream()
                .filter(Practitioner::active)
                .filter(one -> referral == null
                        || one.methods().contains(referral.details().request().methodPlanned()))
                .filter(one -> ages.stream().anyMatch(one.ages()::includes))
                .toList();
    }
}
