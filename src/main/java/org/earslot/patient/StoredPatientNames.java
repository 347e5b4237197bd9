package org.earslot.patient;

import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.PatientNames;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The patients' names for the audit trail. */
@Component
class StoredPatientNames implements PatientNames {

    private static final int AT_ONCE = 1000;

    private final Patients patients;
    private final PatientMerges merges;

    StoredPatientNames(Patients patients, PatientMerges merges) {
        this.patients = patients;
        this.merges = merges;
    }

    @Override
    @Transactional(readOnly = true)
    public Map<UUID, String> of(ClinicId clinicId, Collection<UUID> ids) {
        return patients.findByClinicIdAndIdIn(clinicId, List.copyOf(ids)).stream()
                .collect(Collectors.toMap(
                        Patient::id, patient -> patient.displayName() + " (" + patient.localNumber() + ")"));
    }

    @Override
    @Transactional(readOnly = true)
    public Set<UUID> numbered(ClinicId clinicId, Collection<String> localNumbers) {
        List<String> all = List.copyOf(localNumbers);
        Set<UUID> found = new HashSet<>();
        for (int i = 0; i < all.size(); i += AT_ONCE) {
            patients.findByClinicIdAndLocalNumberIn(clinicId, all.subList(i, Math.min(all.size(), i + AT_ONCE)))
                    .forEach(patient -> found.add(patient.id()));
        }
        return found;
    }

    @Override
    @Transactional(readOnly = true)
    public Set<UUID> samePerson(ClinicId clinicId, UUID patient) {
        Set<UUID> same = new HashSet<>();
        if (patients.findByClinicIdAndId(clinicId, patient).isPresent()) {
            collect(clinicId, patient, same);
        }
        return same;
    }

    private void collect(ClinicId clinicId, UUID patient, Set<UUID> same) {
        if (same.add(patient)) {
            merges.standing(clinicId, patient).stream()
                    .filter(merge -> merge.keptId().equals(patient))
                    .forEach(merge -> collect(clinicId, merge.goneId(), same));
        }
    }
}
