package org.earslot.aftercare;

import java.time.LocalDate;
import java.time.Period;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Caution;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralPolicies;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Visits that were missed and need a person to decide. A referral is never closed by itself: after as many missed visits as
 * the policy says, closing is proposed. A child, or a person who depends on others to come, was not brought: that goes to a
 * clinician from the first time on (common practice, no source).
 */
@Service
public class MissedVisits {

    /** Visits longer ago are not listed any more. */
    private static final Period LOOKS_BACK = Period.ofMonths(6);

    private static final Set<Caution> DEPENDS = EnumSet.of(Caution.NEEDS_SUPPORT, Caution.CAPACITY_TO_CONSENT);

    private static final int GROWN_UP = 18;

    private static final Set<ReferralStatus> OPEN =
            Set.of(ReferralStatus.TO_TRIAGE, ReferralStatus.READY_TO_BOOK, ReferralStatus.WAITING);

    private final Appointments appointments;
    private final Referrals referrals;
    private final Patients patients;
    private final ReferralPolicies policies;
    private final MissedDecisions decisions;
    private final ClinicClock clock;

    MissedVisits(
            Appointments appointments,
            Referrals referrals,
            Patients patients,
            ReferralPolicies policies,
            MissedDecisions decisions,
            ClinicClock clock) {
        this.appointments = appointments;
        this.referrals = referrals;
        this.patients = patients;
        this.policies = policies;
        this.decisions = decisions;
        this.clock = clock;
    }

    /**
     * A referral whose last visit was missed.
     *
     * @param appointment the last one missed
     * @param times how many of its visits were missed
     * @param notBrought whether the patient depends on others to come, so that a clinician decides
     */
    public record Missed(Appointment appointment, Referral referral, Patient patient, int times, boolean notBrought) {}

    /** Those that wait for a decision, the longest ago first. */
    @Transactional(readOnly = true)
    public List<Missed> open(ClinicId clinicId) {
        LocalDate today = clock.today(clinicId);
        Map<UUID, List<Appointment>> byReferral = appointments.missedSince(clinicId, today.minus(LOOKS_BACK)).stream()
                .collect(Collectors.groupingBy(one -> one.referralId().orElseThrow()));
        if (byReferral.isEmpty()) {
            return List.of();
        }
        Set<UUID> decided = decisions
                .findByClinicIdAndAppointmentIdIn(
                        clinicId,
                        byReferral.values().stream()
                                .flatMap(List::stream)
                                .map(Appointment::id)
                                .toList())
                .stream()
                .map(MissedDecision::appointmentId)
                .collect(Collectors.toSet());
        int limit = policies.of(clinicId).didNotAttendLimit();
        return byReferral.entrySet().stream()
                .map(entry -> missed(clinicId, entry.getKey(), entry.getValue(), today))
                .flatMap(Optional::stream)
                .filter(one -> !decided.contains(one.appointment().id()))
                .filter(one -> one.notBrought() || (limit > 0 && one.times() >= limit))
                .sorted(Comparator.comparing(one -> one.appointment().place().start()))
                .toList();
    }

    private Optional<Missed> missed(ClinicId clinicId, UUID referralId, List<Appointment> missed, LocalDate today) {
        Appointment last = missed.stream()
                .max(Comparator.comparing(one -> one.place().start()))
                .orElseThrow();
        Optional<Referral> referral =
                referrals.findByClinicIdAndId(clinicId, referralId).filter(one -> OPEN.contains(one.status()));
        return referral.flatMap(one -> patients.findByClinicIdAndId(clinicId, one.patientId())
                .map(patient -> new Missed(last, one, patient, missed.size(), dependent(patient, one, today))));
    }

    /** Whether the patient is a child, or depends on others to come. */
    static boolean dependent(Patient patient, Referral referral, LocalDate today) {
        PatientDetails person = patient.details();
        LocalDate born = person.dateOfBirth();
        boolean child = born != null && born.plusYears(GROWN_UP).isAfter(today);
        return child
                || person.consentBy() != null
                || person.comesWith() != null
                || referral.details().cautions().confirmed().stream().anyMatch(DEPENDS::contains);
    }
}
