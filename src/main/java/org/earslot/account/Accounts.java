package org.earslot.account;

import jakarta.persistence.LockModeType;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Query;

/** The accounts of all clinics. */
public interface Accounts extends JpaRepository<Account, UUID> {

    Optional<Account> findBySignInName(String signInName);

    List<Account> findByClinicIdOrderBySignInName(ClinicId clinicId);

    Optional<Account> findByClinicIdAndId(ClinicId clinicId, UUID id);

    /** The account, held until the end of the transaction, so that attempts side by side are all counted. */
    @Lock(LockModeType.PESSIMISTIC_WRITE)
    @Query("select account from Account account where account.id = :id")
    Optional<Account> hold(UUID id);

    /** The clinic's leads, held until the end of the transaction, so that two cannot each remove the other. */
    @Lock(LockModeType.PESSIMISTIC_WRITE)
    @Query("select account from Account account where account.clinicId = :clinicId"
            + " and account.role = org.earslot.account.Role.LEAD order by account.id")
    List<Account> holdLeads(ClinicId clinicId);
}
