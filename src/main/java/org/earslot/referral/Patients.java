package org.earslot.referral;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.domain.Limit;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The patients of each clinic. */
public interface Patients extends JpaRepository<Patient, UUID> {

    Optional<Patient> findByClinicIdAndId(UUID clinicId, UUID id);

    Optional<Patient> findByClinicIdAndLocalNumber(UUID clinicId, String localNumber);

    long countByClinicId(UUID clinicId);

    @Query("""
            select p from Patient p where p.clinicId = :clinicId and (
                lower(p.familyName) like :start or lower(p.givenName) like :start or lower(p.localNumber) like :start)
            order by p.familyName, p.givenName, p.localNumber""")
    List<Patient> search(UUID clinicId, String start, Limit limit);

    List<Patient> findByClinicIdAndIdIn(UUID clinicId, Collection<UUID> ids);
}
