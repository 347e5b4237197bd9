package org.earslot.account;

import jakarta.persistence.LockModeType;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Query;

/** The second factors of all people. */
interface SecondFactors extends JpaRepository<SecondFactor, UUID> {

    /** Held until the end of the transaction, so that a code serves once whoever sends it at the same time. */
    @Lock(LockModeType.PESSIMISTIC_WRITE)
    @Query("select factor from SecondFactor factor where factor.accountId = :accountId")
    Optional<SecondFactor> hold(UUID accountId);
}
