package org.earslot.account;

import jakarta.persistence.LockModeType;
import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Query;

/** The codes printed so far: one that may serve, and those used. */
interface FirstSignInCodes extends JpaRepository<FirstSignInCode, UUID> {

    /** All codes, held until the end of the transaction, so that a code serves once whoever sends it at the same time. */
    @Lock(LockModeType.PESSIMISTIC_WRITE)
    @Query("select code from FirstSignInCode code")
    List<FirstSignInCode> hold();
}
