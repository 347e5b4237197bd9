package org.earslot.aftercare.web;

import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.earslot.booking.Appointment;
import org.earslot.booking.PlannedVisit;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.page.Messages;
import org.earslot.referral.Referral;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Component;

/** What an appointment, and the visit that came of it, put into the fields of a letter. */
@Component
class AppointmentFields {

    private static final DateTimeFormatter WHEN =
            DateTimeFormatter.ofPattern("EEEE d MMMM yyyy, HH:mm", Locale.ENGLISH);

    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Visits visits;
    private final VisitFields visitFields;
    private final ClinicClock clock;
    private final LetterWords words;

    AppointmentFields(
            Practitioners practitioners,
            Rooms rooms,
            Visits visits,
            VisitFields visitFields,
            ClinicClock clock,
            Messages messages) {
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.visits = visits;
        this.visitFields = visitFields;
        this.clock = clock;
        this.words = new LetterWords(messages);
    }

    void put(Map<String, String> fields, Appointment appointment, Optional<Referral> about, boolean toPatient) {
        ClinicId clinic = appointment.clinicId();
        LocalDateTime start = clock.local(clinic, appointment.place().start());
        fields.put("when", WHEN.format(start));
        if (appointment.place().slotMinutes() > 0) {
            fields.put("minutes", String.valueOf(appointment.place().slotMinutes()));
        }
        practitioners
                .findByClinicIdAndId(clinic, appointment.place().practitionerId())
                .map(Practitioner::name)
                .ifPresent(name -> fields.put("practitioner", name));
        rooms.findByClinicIdAndId(clinic, appointment.place().roomId())
                .map(Room::name)
                .ifPresent(name -> fields.put("room", name));
        PlannedVisit planned = appointment.planned();
        fields.put("ears", words.ears(planned.ears()));
        fields.put("method", planned.method() == null ? "" : words.method(planned.method(), toPatient));
        appointment
                .visitId()
                .flatMap(id -> visits.findByClinicIdAndId(clinic, id))
                .ifPresent(visit -> visitFields.put(
                        fields,
                        appointment,
                        visit,
                        about.map(one -> one.details().redFlags().notes()).orElse(List.of()),
                        toPatient));
    }
}
