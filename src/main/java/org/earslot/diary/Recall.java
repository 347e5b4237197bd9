package org.earslot.diary;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.ear.Answer;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralPolicies;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Hearing-aid wearers whose ears are due to be looked at again: every 3 to 6 months (AAO-HNS cerumen guideline 2017), as the
 * clinic's policy says.
 */
@Service
public class Recall {

    private final Visits visits;
    private final Patients patients;
    private final Referrals referrals;
    private final ReferralPolicies policies;
    private final ClinicClock clock;

    Recall(Visits visits, Patients patients, Referrals referrals, ReferralPolicies policies, ClinicClock clock) {
        this.visits = visits;
        this.patients = patients;
        this.referrals = referrals;
        this.policies = policies;
        this.clock = clock;
    }

    /** Someone who is due. */
    public record Due(Patient patient, LocalDate lastSeen, LocalDate due) {}

    /** Who is due today, longest due first: wears a hearing aid, was seen here, and no referral is under way. */
    @Transactional(readOnly = true)
    public List<Due> today(UUID clinicId) {
        int months = policies.of(clinicId).recallMonths();
        if (months == 0) {
            return List.of();
        }
        LocalDate today = clock.today(clinicId);
        Map<String, LocalDate> last = visits.lastSeen(clinicId).stream()
                .collect(Collectors.toMap(Visits.LastSeen::getPatientRef, Visits.LastSeen::getLastDate));
        Map<UUID, List<Referral>> open = referrals.open(clinicId, ReferralStatus.CLOSED.code()).stream()
                .collect(Collectors.groupingBy(Referral::patientId));
        return patients.withHearingAid(clinicId, Answer.YES).stream()
                .filter(patient -> last.containsKey(patient.localNumber()) && !open.containsKey(patient.id()))
                .map(patient -> due(patient, last.get(patient.localNumber()), months))
                .filter(one -> !one.due().isAfter(today))
                .sorted(Comparator.comparing(Due::due)
                        .thenComparing(one -> one.patient().localNumber()))
                .collect(Collectors.toList());
    }

    private static Due due(Patient patient, LocalDate lastSeen, int months) {
        return new Due(patient, lastSeen, lastSeen.plusMonths(months));
    }
}
