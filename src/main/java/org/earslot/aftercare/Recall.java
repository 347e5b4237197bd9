package org.earslot.aftercare;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralPolicies;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Hearing-aid wearers whose ears are due to be looked at again: every 3 to 6 months (AAO-HNS cerumen guideline 2017), as the
 * clinic's policy says.
 */
@Service
public class Recall {

    private static final int AT_ONCE = 10_000;

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

    /**
     * Someone who is due.
     *
     * @param patient the record; null where only the visit log knows the number
     */
    public record Due(String localNumber, @Nullable Patient patient, LocalDate lastSeen, LocalDate due) {}

    /**
     * Who is due today, longest due first: wears a hearing aid, was seen here, and no referral is under way. If the patient's
     * own record does not say, the last visit that said so counts. Nobody who wants no recall, has moved or has died, and
     * nobody who was referred on at the last visit.
     */
    @Transactional(readOnly = true)
    public List<Due> today(ClinicId clinicId) {
        int months = policies.of(clinicId).recallMonths();
        if (months == 0) {
            return List.of();
        }
        LocalDate today = clock.today(clinicId);
        Map<String, LocalDate> last = visits.lastSeen(clinicId).stream()
                .collect(Collectors.toMap(Visits.LastSeen::getPatientRef, Visits.LastSeen::getLastDate));
        Set<String> elsewhere = Set.copyOf(visits.lastReferredOn(clinicId));
        Map<UUID, List<Referral>> open = referrals.open(clinicId, ReferralStatus.CLOSED.code()).stream()
                .collect(Collectors.groupingBy(Referral::patientId));
        return Stream.concat(
                        patients.withHearingAid(clinicId, Answer.YES).stream()
                                .map(patient -> new Wearer(patient.localNumber(), patient)),
                        byTheLog(clinicId).stream())
                .filter(wearer -> last.containsKey(wearer.localNumber()))
                .filter(wearer -> wearer.patient() == null
                        || !open.containsKey(wearer.patient().id())
                                && wearer.patient().correspondence().recalls())
                .filter(wearer -> !elsewhere.contains(wearer.localNumber()))
                .map(wearer -> due(wearer, last.get(wearer.localNumber()), months))
                .filter(one -> !one.due().isAfter(today))
                .sorted(Comparator.comparing(Due::due).thenComparing(Due::localNumber))
                .collect(Collectors.toList());
    }

    private record Wearer(String localNumber, @Nullable Patient patient) {}

    /** Those of whom the log says so, and whose own record, if there is one, does not say. */
    private List<Wearer> byTheLog(ClinicId clinicId) {
        List<String> wearing = wearingByTheLog(clinicId).stream().sorted().toList();
        Map<String, Patient> recorded = new HashMap<>();
        for (int i = 0; i < wearing.size(); i += AT_ONCE) {
            patients.findByClinicIdAndLocalNumberIn(clinicId, wearing.subList(i, Math.min(wearing.size(), i + AT_ONCE)))
                    .forEach(patient -> recorded.put(patient.localNumber(), patient));
        }
        return wearing.stream()
                .map(number -> new Wearer(number, recorded.get(number)))
                .filter(wearer -> wearer.patient() == null
                        || !wearer.patient().merged()
                                && wearer.patient().details().hearingAid() == Answer.NOT_KNOWN)
                .toList();
    }

    private Set<String> wearingByTheLog(ClinicId clinicId) {
        Map<String, Visits.SaidOfHearingAids> latest = new HashMap<>();
        visits.saidOfHearingAids(clinicId)
                .forEach(said -> latest.merge(
                        said.getPatientRef(),
                        said,
                        (one, other) -> one.getLastDate().isBefore(other.getLastDate()) ? other : one));
        return latest.values().stream()
                .filter(said -> said.getAnswer() == Answer.YES)
                .map(Visits.SaidOfHearingAids::getPatientRef)
                .collect(Collectors.toSet());
    }

    private static Due due(Wearer wearer, LocalDate lastSeen, int months) {
        return new Due(wearer.localNumber(), wearer.patient(), lastSeen, lastSeen.plusMonths(months));
    }
}
