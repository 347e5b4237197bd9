package org.earslot.referral;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** Methods used against the table. */
public interface MethodOverrides extends JpaRepository<MethodOverride, UUID> {

    @Query("""
            select o from MethodOverride o
            where o.clinicId = :clinicId and o.referralId = :referralId and o.withdrawnAt is null order by o.at""")
    List<MethodOverride> standing(ClinicId clinicId, UUID referralId);

    Optional<MethodOverride> findByClinicIdAndId(ClinicId clinicId, UUID id);
}
