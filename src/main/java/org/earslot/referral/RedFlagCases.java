package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The red flags raised in each clinic. */
public interface RedFlagCases extends JpaRepository<RedFlagCase, UUID> {

    List<RedFlagCase> findByClinicIdAndSettledAtIsNullOrderByRaisedAt(ClinicId clinicId);

    List<RedFlagCase> findByClinicIdAndReferralIdOrderByRaisedAtDesc(ClinicId clinicId, UUID referralId);

    /** Those of a person, by whichever referral they were raised, that no clinician has settled yet; oldest first. */
    @Query("""
            select c from RedFlagCase c, Referral r where c.clinicId = :clinicId and c.settledAt is null
            and r.id = c.referralId and r.clinicId = c.clinicId and r.patientId = :patientId order by c.raisedAt""")
    List<RedFlagCase> openOf(ClinicId clinicId, UUID patientId);

    Optional<RedFlagCase> findFirstByClinicIdAndReferralIdAndSettledAtIsNull(ClinicId clinicId, UUID referralId);
}
