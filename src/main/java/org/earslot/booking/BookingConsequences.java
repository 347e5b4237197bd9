package org.earslot.booking;

import java.time.Instant;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.ear.Answer;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.visit.BookedVisit;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/** What a change of an appointment means for the visit log and for the referral. */
@Component
public class BookingConsequences {

    private final Visits visits;
    private final Referrals referrals;
    private final Patients patients;
    private final RedFlagTriage triage;
    private final ApplicationEventPublisher events;

    BookingConsequences(
            Visits visits,
            Referrals referrals,
            Patients patients,
            RedFlagTriage triage,
            ApplicationEventPublisher events) {
        this.visits = visits;
        this.referrals = referrals;
        this.patients = patients;
        this.triage = triage;
        this.events = events;
    }

    /** The record of the visit, made where there is none yet; empty for another kind of visit, which has none. */
    public Optional<Visit> visit(Appointment appointment) {
        UUID clinicId = appointment.clinicId();
        Optional<Visit> known = appointment.visitId().flatMap(id -> visits.findByClinicIdAndId(clinicId, id));
        if (known.isPresent() || appointment.planned().method() == null) {
            return known;
        }
        Visit visit = visits.save(Visit.booked(copyOf(appointment)));
        appointment.becomes(visit.id());
        return Optional.of(visit);
    }

    /** Cancelled or missed: the log records how, the referral waits for a new appointment. Nothing is closed by itself. */
    public void notSeen(Appointment appointment) {
        visit(appointment).ifPresent(visit -> {
            Instant arrived = appointment.times().arrived();
            if (arrived != null && visit.arrived().isEmpty()) {
                visit.arrive(arrived);
            }
            appointment.attendance().ifPresent(visit::attended);
        });
        bookAgain(appointment);
    }

    /** The referral waits for a new appointment. */
    void bookAgain(Appointment appointment) {
        referral(appointment).filter(Referral::losesItsAppointment).ifPresent(this::moved);
    }

    /** The referral of the appointment moves on. */
    public void referralStandsAt(Appointment appointment, ReferralStatus status) {
        referral(appointment)
                .filter(referral -> referral.status() != status)
                .ifPresent(referral -> stand(referral, status));
    }

    private void stand(Referral referral, ReferralStatus status) {
        referral.standAt(status);
        moved(referral);
    }

    private void moved(Referral referral) {
        triage.holdOrLetGo(referral);
        referrals.save(referral);
        events.publishEvent(new Audited.Entry(
                        referral.clinicId(),
                        "referral-moved-on",
                        "referral",
                        referral.id().toString(),
                        referral.status().code())
                .about(referral.patientId()));
    }

    private Optional<Referral> referral(Appointment appointment) {
        return appointment.referralId().flatMap(id -> referrals.findByClinicIdAndId(appointment.clinicId(), id));
    }

    private BookedVisit copyOf(Appointment appointment) {
        ReferralDetails said = referral(appointment).map(Referral::details).orElse(null);
        Optional<Patient> patient =
                appointment.patientId().flatMap(id -> patients.findByClinicIdAndId(appointment.clinicId(), id));
        PlannedVisit planned = appointment.planned();
        BookedPlace place = appointment.place();
        return new BookedVisit(
                appointment.clinicId(),
                reference(appointment),
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
