package org.earslot.referral.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientSearch;
import org.earslot.patient.PatientSearch.Found;
import org.earslot.referral.ReferralAppointments;
import org.earslot.referral.ReferralAppointments.Booked;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Finding a patient, from the head of every page. The search is posted, so that no name stands in an address. */
@Controller
@RequestMapping("/patients")
class PatientSearchPages {

    private final PatientSearch search;
    private final ReferralAppointments appointments;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    PatientSearchPages(
            PatientSearch search,
            ReferralAppointments appointments,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.search = search;
        this.appointments = appointments;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    /**
     * One patient who was found.
     *
     * @param next the next appointment, if there is one
     * @param age in full years, if the date of birth is known
     * @param comesToday whether the next appointment is today's
     */
    record Hit(
            Patient patient,
            @Nullable Booked next,
            @Nullable Integer age,
            boolean comesToday) {}

    @GetMapping
    String ask(Model model) {
        model.addAttribute("sought", "");
        return "referral/patients";
    }

    @PostMapping
    String search(@RequestParam(defaultValue = "") String sought, Model model) {
        LocalDate today = clock.today(current.id());
        Found found = search.find(current.id(), sought, today);
        List<UUID> ids = found.patients().stream().map(Patient::id).toList();
        Map<UUID, Booked> next = appointments.next(current.id(), ids);
        model.addAttribute("sought", sought.strip());
        model.addAttribute("found", found);
        model.addAttribute(
                "hits",
                found.patients().stream()
                        .map(one -> hit(one, next.get(one.id()), today))
                        .toList());
        if (!ids.isEmpty()) {
            events.publishEvent(Audited.viewed(current.id(), "patient search", ids));
        }
        return "referral/patients";
    }

    private static Hit hit(Patient patient, @Nullable Booked next, LocalDate today) {
        return new Hit(
                patient,
                next,
                patient.details().ageOn(today).orElse(null),
                next != null && next.start().toLocalDate().equals(today));
    }
}
