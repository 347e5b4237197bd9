package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** The red flags raised in each clinic. */
public interface RedFlagCases extends JpaRepository<RedFlagCase, UUID> {

    List<RedFlagCase> findByClinicIdAndSettledAtIsNullOrderByRaisedAt(UUID clinicId);

    List<RedFlagCase> findByClinicIdAndReferralIdOrderByRaisedAtDesc(UUID clinicId, UUID referralId);

    /** Those of a person, by whichever referral they were raised, that no clinician has settled yet; oldest first. */
    @Query("""
            select c from RedFlagCase c, Referral r where c.clinicId = :clinicId and c.settledAt is null
            and r.id = c.referralId and r.clinicId = c.clinicId and r.patientId = :patientId order by c.raisedAt""")
    List<RedFlagCase> openOf(UUID clinicId, UUID patientId);

    Optional<RedFlagCase> findFirstByClinicIdAndReferralIdAndSettledAtIsNull(UUID clinicId, UUID referralId);
}
