package org.earslot.referral;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.patient.MergedKind;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.PatientMerge;
import org.earslot.patient.PatientMergeItem;
import org.earslot.patient.PatientMergeItems;
import org.earslot.patient.PatientMerges;
import org.earslot.patient.Patients;
import org.earslot.patient.PatientsMerged;
import org.earslot.patient.PatientsParted;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.databind.json.JsonMapper;

/** Makes two records of one person one, and parts them again. */
@Service
public class Merging {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final Patients patients;
    private final Referrals referrals;
    private final PatientMerges merges;
    private final PatientMergeItems items;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Merging(
            Patients patients,
            Referrals referrals,
            PatientMerges merges,
            PatientMergeItems items,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.patients = patients;
        this.referrals = referrals;
        this.merges = merges;
        this.items = items;
        this.clock = clock;
        this.events = events;
    }

    /**
     * Keeps the one record and lets it take over what the other knows and it does not, with referrals, appointments and
     * visits. Empty where both are one, one is merged already, or there is none.
     */
    @Transactional
    public Optional<PatientMerge> merge(ClinicId clinicId, UUID keptId, UUID goneId, String who) {
        Optional<Patient> kept = patients.findByClinicIdAndId(clinicId, keptId).filter(one -> !one.merged());
        Optional<Patient> gone = patients.findByClinicIdAndId(clinicId, goneId).filter(one -> !one.merged());
        if (kept.isEmpty() || gone.isEmpty() || keptId.equals(goneId)) {
            return Optional.empty();
        }
        PatientDetails before = kept.get().details();
        PatientMerge merge = merges.saveAndFlush(
                new PatientMerge(clinicId, keptId, goneId, JSON.writeValueAsString(before), who, clock.now()));
        kept.get().amend(gone.get().details().completedBy(before));
        kept.get().correspondBy(kept.get().correspondence().stricter(gone.get().correspondence()));
        gone.get().mergeInto(keptId);
        List<Referral> moved = referrals.ofPatient(clinicId, goneId);
        moved.forEach(referral -> referral.belongTo(keptId));
        wentAlong(
                clinicId,
                merge.id(),
                MergedKind.REFERRAL,
                moved.stream().map(Referral::id).toList());
        events.publishEvent(new PatientsMerged(
                clinicId,
                merge.id(),
                goneId,
                gone.get().localNumber(),
                keptId,
                kept.get().localNumber()));
        announce(clinicId, "patients-merged", keptId, goneId, "took over " + goneId);
        return Optional.of(merge);
    }

    /** Parts them again; what came to the kept record since stays there. False where that cannot be. */
    @Transactional
    public boolean undo(ClinicId clinicId, UUID mergeId, String who) {
        Optional<PatientMerge> found =
                merges.findByClinicIdAndId(clinicId, mergeId).filter(PatientMerge::stands);
        if (found.isEmpty()) {
            return false;
        }
        PatientMerge merge = found.get();
        Patient kept = patients.findByClinicIdAndId(clinicId, merge.keptId()).orElseThrow();
        Patient gone = patients.findByClinicIdAndId(clinicId, merge.goneId()).orElseThrow();
        boolean last = merges.standing(clinicId, kept.id()).get(0).id().equals(mergeId);
        if (kept.merged() || !last) {
            return false;
        }
        kept.amend(JSON.readValue(merge.keptBefore(), PatientDetails.class));
        gone.standAlone();
        referrals
                .findByClinicIdAndIdIn(clinicId, thatWentAlong(clinicId, mergeId, MergedKind.REFERRAL))
                .forEach(referral -> referral.belongTo(gone.id()));
        events.publishEvent(new PatientsParted(clinicId, mergeId, gone.id(), gone.localNumber()));
        merge.undo(who, clock.now());
        announce(clinicId, "patients-parted", kept.id(), gone.id(), "gave back " + gone.id());
        return true;
    }

    /** Notes what went along with a merge. */
    @Transactional
    public void wentAlong(ClinicId clinicId, UUID mergeId, MergedKind kind, Collection<UUID> ids) {
        ids.forEach(id -> items.save(new PatientMergeItem(clinicId, mergeId, kind, id)));
    }

    /** What went along with a merge. */
    @Transactional(readOnly = true)
    public List<UUID> thatWentAlong(ClinicId clinicId, UUID mergeId, MergedKind kind) {
        return items.findByClinicIdAndMergeIdAndKind(clinicId, mergeId, kind.code()).stream()
                .map(PatientMergeItem::itemId)
                .toList();
    }

    private void announce(ClinicId clinicId, String action, UUID patientId, UUID otherId, String detail) {
        events.publishEvent(new Audited.Entry(
                clinicId, action, "patient", patientId.toString(), detail, List.of(patientId, otherId)));
    }
}
