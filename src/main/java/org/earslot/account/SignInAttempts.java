package org.earslot.account;

import java.time.Clock;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Counts right and wrong passwords, one after the other for each account. */
@Service
class SignInAttempts {

    private final Accounts accounts;
    private final SignInLimits limits;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    SignInAttempts(Accounts accounts, SignInLimits limits, Clock clock, ApplicationEventPublisher events) {
        this.accounts = accounts;
        this.limits = limits;
        this.clock = clock;
        this.events = events;
    }

    /**
     * Counts the attempt.
     *
     * @param purpose what the audit trail calls it when the password is right
     * @param checkedHash the hash that the password was compared with
     * @return the person, where the password was right and the account is open, still with that password
     */
    @Transactional
    Optional<Asker.Person> count(String purpose, UUID accountId, String checkedHash, boolean right) {
        Account account = accounts.hold(accountId).orElseThrow();
        Instant now = clock.instant();
        if (!account.open(now)) {
            return Optional.empty();
        }
        if (right && account.passwordHash().equals(checkedHash)) {
            account.signInSucceeded();
            events.publishEvent(new AtTheDoor(account.signInName(), purpose, account));
            return Optional.of(account.person());
        }
        account.signInFailed(now, limits.attempts(), limits.lock());
        String action = account.locked(now) ? "account-locked" : "sign-in-refused";
        events.publishEvent(new AtTheDoor(AtTheDoor.VISITOR, action, account));
        return Optional.empty();
    }
}
