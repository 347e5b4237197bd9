package org.earslot.exchange;

import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.PlannedVisit;
import org.earslot.booking.SuitabilityCheck;
import org.earslot.booking.VisitPlans;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.springframework.stereotype.Component;

/** The appointments of an imported diary, each with the numbers and the suitability that a booking made here has. */
@Component
class ImportedAppointments {

    private final Appointments appointments;
    private final Estimates estimates;
    private final SuitabilityCheck suitabilityCheck;
    private final ClinicClock clock;

    ImportedAppointments(
            Appointments appointments, Estimates estimates, SuitabilityCheck suitabilityCheck, ClinicClock clock) {
        this.appointments = appointments;
        this.estimates = estimates;
        this.suitabilityCheck = suitabilityCheck;
        this.clock = clock;
    }

    /** The appointment of that reference. One made here has no reference of its own and goes out under its id. */
    Optional<Appointment> known(ClinicId clinicId, String bookingRef) {
        return appointments
                .findByClinicIdAndBookingRef(clinicId, bookingRef)
                .or(() -> BookingLine.ownId(bookingRef)
                        .flatMap(id -> appointments.findByClinicIdAndId(clinicId, id))
                        .filter(own -> own.bookingRef().isEmpty()));
    }

    void book(Referral referral, Patient patient, BookedPlace place, BookingLine line, String who) {
        Estimate estimate = estimate(referral, patient, place);
        PlannedVisit planned = new PlannedVisit(
                referral.id(),
                patient.id(),
                null,
                line.method(),
                line.ears(),
                estimate.estimated(),
                estimate.version());
        store(Appointment.booked(UUID.randomUUID(), referral.clinicId(), planned, place, who, clock.now()), line);
    }

    void replace(Appointment known, Referral referral, Patient patient, BookedPlace place, BookingLine line) {
        Estimate estimate = estimate(referral, patient, place);
        known.replace(line.method(), line.ears());
        known.moveTo(place, estimate.estimated(), estimate.version());
        store(known, line);
    }

    private void store(Appointment appointment, BookingLine line) {
        appointment.takeOver(line.bookingRef(), line.status(), line.note());
        suitabilityCheck.recordOn(appointment);
        appointments.saveAndFlush(appointment);
    }

    private Estimate estimate(Referral referral, Patient patient, BookedPlace place) {
        return estimates.estimate(referral.clinicId(), VisitPlans.of(referral, patient, place.practitionerId()));
    }
}
