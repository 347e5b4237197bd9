package org.earslot.appointment.web;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.patient.Patients;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The names of whom and what an appointment refers to. That the patient is shown is noted in the audit trail. */
@Component
class AppointmentNames {

    private final Practitioners practitioners;
    private final Rooms rooms;
    private final OtherVisitKinds kinds;
    private final Patients patients;
    private final CurrentClinic current;
    private final ApplicationEventPublisher events;

    AppointmentNames(
            Practitioners practitioners,
            Rooms rooms,
            OtherVisitKinds kinds,
            Patients patients,
            CurrentClinic current,
            ApplicationEventPublisher events) {
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.kinds = kinds;
        this.patients = patients;
        this.current = current;
        this.events = events;
    }

    void show(Model model, Appointment appointment) {
        ClinicId clinic = current.id();
        model.addAttribute(
                "practitionerName",
                practitioners
                        .findByClinicIdAndId(clinic, appointment.place().practitionerId())
                        .map(Practitioner::name)
                        .orElse("–"));
        model.addAttribute(
                "roomName",
                rooms.findByClinicIdAndId(clinic, appointment.place().roomId())
                        .map(Room::name)
                        .orElse("–"));
        UUID kind = appointment.planned().otherVisitKindId();
        model.addAttribute(
                "kindName",
                Optional.ofNullable(kind)
                        .flatMap(id -> kinds.findByClinicIdAndId(clinic, id))
                        .map(OtherVisitKind::name)
                        .orElse(null));
        appointment
                .patientId()
                .flatMap(id -> patients.findByClinicIdAndId(clinic, id))
                .ifPresent(patient -> {
                    model.addAttribute("patient", patient);
                    events.publishEvent(Audited.viewed(clinic, "appointment", List.of(patient.id())));
                });
    }
}
