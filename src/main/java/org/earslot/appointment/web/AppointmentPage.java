package org.earslot.appointment.web;

import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.web.FindingsChanges;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.earslot.visit.Visit;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The page of an appointment, shown again if something on it is refused. */
@Component
class AppointmentPage {

    private final Appointments appointments;
    private final ClockSection clocks;
    private final FindingsSection findings;
    private final SuitabilitySection suitability;
    private final AfterVisitSection afterVisit;
    private final AppointmentNames names;
    private final CurrentClinic current;

    AppointmentPage(
            Appointments appointments,
            ClockSection clocks,
            FindingsSection findings,
            SuitabilitySection suitability,
            AfterVisitSection afterVisit,
            AppointmentNames names,
            CurrentClinic current) {
        this.appointments = appointments;
        this.clocks = clocks;
        this.findings = findings;
        this.suitability = suitability;
        this.afterVisit = afterVisit;
        this.names = names;
        this.current = current;
    }

    Appointment appointment(UUID id) {
        return appointments.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("appointment"));
    }

    Optional<Visit> visit(Appointment appointment) {
        return findings.visit(appointment);
    }

    String show(Model model, UUID id) {
        return show(model, id, Map.of(), Map.of());
    }

    /** Only whose and what it is, for the pages about it. */
    void showNames(Model model, Appointment appointment) {
        names.show(model, appointment);
    }

    /** Findings were typed while somebody else recorded some: names each difference. */
    String showChanged(Model model, UUID id, Map<String, String> typed) {
        FindingsChanges compared = findings.changes(appointment(id), typed);
        model.addAttribute("changes", compared.changes());
        return show(model, id, compared.values(), Map.of());
    }

    /**
     * @param typed what was typed into a form that is refused
     * @param problems by field
     */
    String show(Model model, UUID id, Map<String, String> typed, Map<String, Problem> problems) {
        Appointment appointment = appointment(id);
        Optional<Visit> visit = visit(appointment);
        model.addAttribute("appointment", appointment);
        model.addAttribute("planned", appointment.planned());
        LocalClock times = clocks.show(model, appointment);
        afterVisit.show(model, appointment, visit);
        suitability.show(model, appointment);
        names.show(model, appointment);
        findings.show(model, appointment, visit, times, typed);
        model.addAttribute("problems", problems);
        return "appointment/appointment";
    }
}
