package org.earslot.clinic;

import java.util.Collection;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

/** What rooms below the patients' own need to show the audit trail by patient. */
public interface PatientNames {

    /** Name and local number by id; those that the clinic does not have are left out. */
    Map<UUID, String> of(ClinicId clinicId, Collection<UUID> patients);

    /** The patients of these local numbers that the clinic has. */
    Set<UUID> numbered(ClinicId clinicId, Collection<String> localNumbers);

    /** The patient and all records merged into it; empty if the clinic has no such patient. */
    Set<UUID> samePerson(ClinicId clinicId, UUID patient);
}
