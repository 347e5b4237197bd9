package org.earslot.caution;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The cautions known of each clinic's patients. */
interface PatientCautionRows extends JpaRepository<PatientCaution, UUID> {

    Optional<PatientCaution> findByClinicIdAndId(ClinicId clinicId, UUID id);

    List<PatientCaution> findByClinicIdAndPatientIdInOrderByRecordedOnAscIdAsc(
            ClinicId clinicId, Collection<UUID> patientIds);

    /** The codes of cautions on the referrals of these patients that are none of {@code known}. */
    @Query("select distinct c.caution from Referral r join r.cautions c where r.clinicId = :clinicId"
            + " and r.patientId in :patientIds and c.caution not in :known order by c.caution")
    List<String> unknownOnReferrals(ClinicId clinicId, Collection<UUID> patientIds, Collection<String> known);

    /** The second records of these patients. */
    @Query("select p.id from Patient p where p.clinicId = :clinicId and p.mergedInto in :patientIds")
    List<UUID> mergedInto(ClinicId clinicId, Collection<UUID> patientIds);
}
