package org.earslot.referral;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.ear.Answer;
import org.springframework.data.domain.Limit;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The patients of each clinic. */
public interface Patients extends JpaRepository<Patient, UUID> {

    Optional<Patient> findByClinicIdAndId(UUID clinicId, UUID id);

    Optional<Patient> findByClinicIdAndLocalNumber(UUID clinicId, String localNumber);

    /** The patient of that number; of a second record, the patient whose it is. */
    default Optional<Patient> known(UUID clinicId, String localNumber) {
        return findByClinicIdAndLocalNumber(clinicId, localNumber)
                .flatMap(found -> found.mergedInto().isEmpty()
                        ? Optional.of(found)
                        : findByClinicIdAndId(clinicId, found.mergedInto().get()));
    }

    /** Every patient with a name or a contact, second records left out. */
    @Query("""
            select p from Patient p where p.clinicId = :clinicId and p.mergedInto is null
            and (p.familyName is not null or p.contact is not null)""")
    List<Patient> named(UUID clinicId);

    @Query("""
            select p from Patient p
            where p.clinicId = :clinicId and p.mergedInto is null and p.hearingAid = :answer""")
    List<Patient> withHearingAid(UUID clinicId, Answer answer);

    long countByClinicId(UUID clinicId);

    @Query("""
            select p from Patient p where p.clinicId = :clinicId and p.mergedInto is null and (
                lower(p.familyName) like :start or lower(p.givenName) like :start or lower(p.localNumber) like :start)
            order by p.familyName, p.givenName, p.localNumber""")
    List<Patient> search(UUID clinicId, String start, Limit limit);

    List<Patient> findByClinicIdAndIdIn(UUID clinicId, Collection<UUID> ids);
}
