package org.earslot.referral;

import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What of a person's red flags waits for a clinician, whichever referral it was raised by: open cases, and answers in codes
 * that are not known here.
 */
@Service
public class OpenRedFlags {

    private final RedFlagCases cases;
    private final Referrals referrals;
    private final Patients patients;
    private final Practitioners practitioners;
    private final RedFlagTriage triage;

    OpenRedFlags(
            RedFlagCases cases,
            Referrals referrals,
            Patients patients,
            Practitioners practitioners,
            RedFlagTriage triage) {
        this.cases = cases;
        this.referrals = referrals;
        this.patients = patients;
        this.practitioners = practitioners;
        this.triage = triage;
    }

    /** The cases of a person that no clinician has settled; oldest first. */
    @Transactional(readOnly = true)
    public List<RedFlagCase> of(ClinicId clinicId, UUID patientId) {
        return cases.openOf(clinicId, patientId);
    }

    /** The oldest case of a person about which no clinician has said anything yet. */
    @Transactional(readOnly = true)
    public Optional<RedFlagCase> undecided(ClinicId clinicId, UUID patientId) {
        return of(clinicId, patientId).stream().filter(RedFlagCase::undecided).findFirst();
    }

    /**
     * The referrals under way of these people with an answer that is not understood, on which no clinician has decided and
     * for which no case is open; the oldest first.
     */
    @Transactional(readOnly = true)
    public List<Referral> notUnderstood(ClinicId clinicId, Collection<UUID> patientIds) {
        return referrals.withRedFlags(clinicId, patientIds, ReferralStatus.CLOSED.code()).stream()
                .filter(referral -> !triage.notUnderstood(referral).isEmpty()
                        && triage.open(referral).isEmpty())
                .toList();
    }

    /** Whether nothing is booked or moved for a person, and nobody called in, until a clinician has decided. */
    @Transactional(readOnly = true)
    public boolean hold(ClinicId clinicId, UUID patientId) {
        return undecided(clinicId, patientId).isPresent()
                || !notUnderstood(clinicId, List.of(patientId)).isEmpty();
    }

    /** Every case of the clinic that no clinician has settled, with its person; oldest first. */
    @Transactional(readOnly = true)
    public Map<RedFlagCase, Patient> all(ClinicId clinicId) {
        List<RedFlagCase> open = cases.findByClinicIdAndSettledAtIsNullOrderByRaisedAt(clinicId);
        if (open.isEmpty()) {
            return Map.of();
        }
        Map<UUID, UUID> patientIds = patientIds(clinicId, open);
        Map<UUID, Patient> people = patients.findByClinicIdAndIdIn(clinicId, patientIds.values()).stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
        Map<RedFlagCase, Patient> all = new LinkedHashMap<>();
        open.forEach(one -> all.put(one, people.get(patientIds.get(one.referralId()))));
        return all;
    }

    /** By person, one case each: one that is undecided before one that a clinician will look at here. */
    @Transactional(readOnly = true)
    public Map<UUID, RedFlagCase> byPatient(ClinicId clinicId) {
        List<RedFlagCase> open = cases.findByClinicIdAndSettledAtIsNullOrderByRaisedAt(clinicId);
        Map<UUID, UUID> patientIds = patientIds(clinicId, open);
        Map<UUID, RedFlagCase> byPatient = new HashMap<>();
        open.forEach(one -> byPatient.merge(
                patientIds.get(one.referralId()), one, (first, other) -> first.undecided() ? first : other));
        return byPatient;
    }

    /** The name of the clinician a case goes to; empty until one is named. */
    @Transactional(readOnly = true)
    public Optional<String> clinician(RedFlagCase open) {
        return open.clinicianId()
                .flatMap(id -> practitioners.findByClinicIdAndId(open.clinicId(), id))
                .map(Practitioner::name);
    }

    private Map<UUID, UUID> patientIds(ClinicId clinicId, List<RedFlagCase> open) {
        return referrals
                .findByClinicIdAndIdIn(
                        clinicId, open.stream().map(RedFlagCase::referralId).toList())
                .stream()
                .collect(Collectors.toMap(Referral::id, Referral::patientId));
    }
}
