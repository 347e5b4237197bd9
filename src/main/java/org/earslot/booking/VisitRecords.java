package org.earslot.booking;

import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import org.earslot.ear.Answer;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.earslot.visit.BookedVisit;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Component;

/**
 * The row of the visit log that belongs to an appointment. While the day is open the appointment alone owns its times and
 * attendance, and the row is written from it; what was found and done is in the row alone.
 */
@Component
public class VisitRecords {

    private final Visits visits;
    private final Referrals referrals;
    private final Patients patients;

    VisitRecords(Visits visits, Referrals referrals, Patients patients) {
        this.visits = visits;
        this.referrals = referrals;
        this.patients = patients;
    }

    /** The row as it is, made if something happened and there is none; empty for another kind of visit. */
    public Optional<Visit> of(Appointment appointment) {
        return stored(appointment).or(() -> write(appointment));
    }

    /**
     * Writes the row from the appointment, as often as wanted: the same again changes nothing. A row is made once something
     * happened, and never for another kind of visit, which the log does not have. Until the patient is called in, the row's
     * copy of the booking follows the appointment.
     */
    public Optional<Visit> write(Appointment appointment) {
        Optional<Visit> known = stored(appointment);
        if (known.isEmpty() && (appointment.planned().method() == null || !appointment.hasHappened())) {
            return known;
        }
        Visit visit = known.orElseGet(() -> Visit.booked(copyOf(appointment, reference(appointment))));
        if (!visit.imported() && visit.calledIn().isEmpty() && !isCopyOf(visit, appointment)) {
            visit.rebook(copyOf(appointment, visit.visitRef()));
        }
        visit.write(appointment.clockRecord());
        if (known.isEmpty()) {
            visit = visits.save(visit);
            appointment.link(visit.id());
        }
        return Optional.of(visit);
    }

    private Optional<Visit> stored(Appointment appointment) {
        return appointment.visitId().flatMap(id -> visits.findByClinicIdAndId(appointment.clinicId(), id));
    }

    private static boolean isCopyOf(Visit visit, Appointment appointment) {
        PlannedVisit planned = appointment.planned();
        BookedPlace place = appointment.place();
        return visit.date().equals(place.date())
                && visit.practitionerId().equals(place.practitionerId())
                && visit.roomId().equals(Optional.of(place.roomId()))
                && visit.methodPlanned() == planned.method()
                && visit.ears() == planned.ears()
                && (appointment.fitIn()
                        || visit.bookedStart().equals(Optional.of(place.start()))
                                && visit.slotMinutes().equals(Optional.of(place.slotMinutes())));
    }

    private BookedVisit copyOf(Appointment appointment, String reference) {
        ReferralDetails said = appointment
                .referralId()
                .flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id))
                .map(Referral::details)
                .orElse(null);
        Optional<Patient> patient =
                appointment.patientId().flatMap(id -> patients.findByClinicIdAndId(appointment.clinicId(), id));
        PlannedVisit planned = appointment.planned();
        BookedPlace place = appointment.place();
        return new BookedVisit(
                appointment.clinicId(),
                reference,
                patient.map(Patient::localNumber).orElse("unknown"),
                place.date(),
                place.practitionerId(),
                place.roomId(),
                Objects.requireNonNull(planned.method()),
                Objects.requireNonNull(planned.ears()),
                said == null ? Answer.NOT_KNOWN : said.request().firstVisit(),
                patient.map(known -> known.details().hearingAid()).orElse(Answer.NOT_KNOWN),
                said == null ? Set.of() : said.cautions().confirmed(),
                said == null ? null : said.request().softenerDays(),
                said == null ? null : said.source().referrer(),
                said == null ? Map.<Ear, EarFindings>of() : said.reported().byEar(),
                appointment.fitIn() ? null : place.start(),
                appointment.fitIn() ? null : place.slotMinutes(),
                appointment.fitIn(),
                planned.estimate(),
                planned.estimateVersion());
    }

    private String reference(Appointment appointment) {
        return appointment
                .bookingRef()
                .filter(taken -> visits.findByClinicIdAndVisitRef(appointment.clinicId(), taken)
                        .isEmpty())
                .orElse("A" + appointment.id());
    }
}
