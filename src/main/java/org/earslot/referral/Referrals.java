package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** The referrals of each clinic. */
public interface Referrals extends JpaRepository<Referral, UUID> {

    Optional<Referral> findByClinicIdAndId(UUID clinicId, UUID id);

    List<Referral> findByClinicIdAndPatientIdOrderByReceivedOnDesc(UUID clinicId, UUID patientId);
}
