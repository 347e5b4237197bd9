package org.earslot.diary;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.Audited;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.referral.AskedCaution;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralPolicies;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.visit.BookedVisit;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/** What a change of an appointment means for the visit log and for the referral. */
@Component
class Aftermath {

    private final Visits visits;
    private final Referrals referrals;
    private final Patients patients;
    private final Appointments appointments;
    private final ReferralPolicies policies;
    private final RedFlagTriage triage;
    private final ApplicationEventPublisher events;

    Aftermath(
            Visits visits,
            Referrals referrals,
            Patients patients,
            Appointments appointments,
            ReferralPolicies policies,
            RedFlagTriage triage,
            ApplicationEventPublisher events) {
        this.visits = visits;
        this.referrals = referrals;
        this.patients = patients;
        this.appointments = appointments;
        this.policies = policies;
        this.triage = triage;
        this.events = events;
    }

    /** The record of the visit, made where there is none yet; empty for another kind of visit, which has none. */
    Optional<Visit> visit(Appointment appointment) {
        UUID clinicId = appointment.clinicId();
        Optional<Visit> known = appointment.visitId().flatMap(id -> visits.findByClinicIdAndId(clinicId, id));
        if (known.isPresent() || appointment.planned().method() == null) {
            return known;
        }
        Visit visit = visits.save(Visit.booked(copyOf(appointment)));
        appointment.becomes(visit.id());
        return Optional.of(visit);
    }

    /** Called off or missed: the log keeps how, the referral waits for a new appointment. */
    void notSeen(Appointment appointment) {
        visit(appointment).ifPresent(visit -> {
            Instant arrived = appointment.times().arrived();
            if (arrived != null && visit.arrived().isEmpty()) {
                visit.arrive(arrived);
            }
            appointment.attendance().ifPresent(visit::attended);
        });
        if (missedTooOften(appointment)) {
            referralStandsAt(appointment, ReferralStatus.CLOSED);
        } else {
            bookAgain(appointment);
        }
    }

    /** Whether this was the last visit not attended that the clinic's policy lets pass. */
    private boolean missedTooOften(Appointment appointment) {
        int limit = policies.of(appointment.clinicId()).didNotAttendLimit();
        Optional<UUID> referral = appointment.referralId();
        if (limit == 0 || referral.isEmpty() || missed(appointment) == 0) {
            return false;
        }
        long before =
                appointments
                        .findByClinicIdAndReferralIdInOrderByStartsAt(appointment.clinicId(), List.of(referral.get()))
                        .stream()
                        .filter(other -> !other.id().equals(appointment.id()))
                        .mapToInt(Aftermath::missed)
                        .sum();
        return before + 1 >= limit;
    }

    private static int missed(Appointment appointment) {
        return appointment.attendance().equals(Optional.of(Attendance.DID_NOT_ATTEND)) ? 1 : 0;
    }

    /** The referral waits for a new appointment. */
    void bookAgain(Appointment appointment) {
        referral(appointment).filter(Referral::losesItsAppointment).ifPresent(this::moved);
    }

    /** The referral of the appointment moves on. */
    void referralStandsAt(Appointment appointment, ReferralStatus status) {
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
                said == null ? Answer.NOT_KNOWN : said.firstVisit(),
                patient.map(known -> known.details().hearingAid()).orElse(Answer.NOT_KNOWN),
                cautions(said),
                said == null ? null : said.softenerDays(),
                said == null ? null : said.referrer(),
                said == null ? Map.<Ear, EarFindings>of() : said.reported(),
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

    private static Set<Caution> cautions(@Nullable ReferralDetails said) {
        return said == null
                ? Set.of()
                : said.cautions().stream().map(AskedCaution::caution).collect(Collectors.toUnmodifiableSet());
    }
}
