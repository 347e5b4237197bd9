package org.earslot.offers.web;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.offers.MethodChoices;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The methods of a referral side by side, before a slot is looked for. */
@Controller
class MethodChoicePages {

    private final MethodChoices choices;
    private final Referrals referrals;
    private final Patients patients;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    MethodChoicePages(
            MethodChoices choices,
            Referrals referrals,
            Patients patients,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.choices = choices;
        this.referrals = referrals;
        this.patients = patients;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    @GetMapping("/slots/methods")
    String show(@RequestParam UUID referral, @RequestParam(defaultValue = "") String on, Model model) {
        ClinicId clinic = current.id();
        Referral asked =
                referrals.findByClinicIdAndId(clinic, referral).orElseThrow(() -> Refused.notFound("referral"));
        LocalDate today = clock.today(clinic);
        Reading reading = new Reading();
        LocalDate date =
                reading.date("on", on, today.minusYears(1), today.plusYears(2)).orElse(today);
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        model.addAttribute("referral", asked);
        model.addAttribute("said", asked.details());
        model.addAttribute("on", date);
        model.addAttribute("choices", choices.of(asked, date));
        patients.findByClinicIdAndId(clinic, asked.patientId())
                .ifPresent(patient -> model.addAttribute("patient", patient));
        events.publishEvent(Audited.viewed(clinic, "methods", List.of(asked.patientId())));
        return "offers/methods";
    }
}
