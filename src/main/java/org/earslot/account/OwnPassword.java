package org.earslot.account;

import java.util.Optional;
import org.earslot.clinic.Audited;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.support.TransactionTemplate;

/** A person's own change of password. */
@Service
public class OwnPassword {

    /** In place of an address: whoever has signed in slows down themselves only. */
    private static final String SIGNED_IN = "signed in";

    private final Accounts accounts;
    private final Passwords passwords;
    private final SignInAttempts attempts;
    private final TransactionTemplate transaction;
    private final ApplicationEventPublisher events;

    OwnPassword(
            Accounts accounts,
            Passwords passwords,
            SignInAttempts attempts,
            TransactionTemplate transaction,
            ApplicationEventPublisher events) {
        this.accounts = accounts;
        this.passwords = passwords;
        this.attempts = attempts;
        this.transaction = transaction;
        this.events = events;
    }

    /** Whether the password of someone who has signed in is {@code current}; a wrong one counts and slows down. */
    public boolean confirm(SignedInUser.Person person, String current) {
        return accounts.findById(person.accountId())
                .filter(account -> attempts.allows(account.signInName(), SIGNED_IN))
                .flatMap(account -> attempts.count(
                        "password-confirmed", account, passwords.matches(current, account.passwordHash()), SIGNED_IN))
                .isPresent();
    }

    /**
     * Replaces {@code current} by {@code chosen} and ends the person's other sessions. A wrong {@code current} counts
     * as a failed sign-in.
     *
     * @param session the session in which the change is made, which goes on
     * @return the person as of now; empty if {@code current} is not right
     */
    public Optional<SignedInUser.Person> change(
            SignedInUser.Person person, String current, String chosen, String session) {
        if (!confirm(person, current)) {
            return Optional.empty();
        }
        String newHash = passwords.hash(chosen);
        return transaction.execute(status -> {
            Account held = accounts.hold(person.accountId()).orElseThrow();
            held.choosePassword(newHash);
            events.publishEvent(new Audited.Entry(
                    held.clinicId(), "password-changed", "account", held.id().toString(), held.signInName()));
            events.publishEvent(new SessionsRevoked(held.signInName(), session));
            return Optional.of(held.person());
        });
    }
}
