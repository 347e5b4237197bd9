package org.earslot.appointment.web;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;

import java.net.URI;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.web.AppointmentBody;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Component;

/** What programs are answered about an appointment: its body with the version as the tag, or why nothing was done. */
@Component
class AppointmentAnswers {

    private final Appointments appointments;
    private final AppointmentBody.Bodies bodies;
    private final CurrentClinic current;

    AppointmentAnswers(Appointments appointments, AppointmentBody.Bodies bodies, CurrentClinic current) {
        this.appointments = appointments;
        this.bodies = bodies;
        this.current = current;
    }

    ResponseEntity<AppointmentBody> created(BookingResult result) {
        Appointment booked = done(result, null);
        return ResponseEntity.created(URI.create("/api/v1/appointments/" + booked.id()))
                .eTag(tag(booked))
                .body(bodies.of(booked));
    }

    ResponseEntity<AppointmentBody> of(BookingResult result, @Nullable String ifMatch) {
        return of(done(result, ifMatch));
    }

    private Appointment done(BookingResult result, @Nullable String ifMatch) {
        if (result instanceof NotDone no) {
            boolean changed = ifMatch != null && no.isFirst(CHANGED_MEANWHILE);
            throw changed ? Refused.of(no.refusals(), 412) : Refused.of(no.refusals());
        }
        return appointment(((Done) result).appointmentId());
    }

    Appointment appointment(UUID id) {
        return appointments.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("appointment"));
    }

    ResponseEntity<AppointmentBody> of(Appointment appointment) {
        return ResponseEntity.ok().eTag(tag(appointment)).body(bodies.of(appointment));
    }

    static String tag(Appointment appointment) {
        return "\"" + appointment.version() + "\"";
    }
}
