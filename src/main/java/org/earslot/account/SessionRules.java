package org.earslot.account;

import java.time.Clock;
import java.time.Instant;
import org.springframework.stereotype.Service;

/** How long a session goes on: no longer than its account is as it was, and neither for too long nor idle for too long. */
@Service
public class SessionRules {

    private final Accounts accounts;
    private final SecondFactorCheck factors;
    private final SignInLimits limits;
    private final Clock clock;

    SessionRules(Accounts accounts, SecondFactorCheck factors, SignInLimits limits, Clock clock) {
        this.accounts = accounts;
        this.factors = factors;
        this.limits = limits;
        this.clock = clock;
    }

    public Instant now() {
        return clock.instant();
    }

    /** What a session remembers whose person has just given the right password. */
    public SignInStamp begin(SignedInUser.Person person, String address) {
        return new SignInStamp(clock.instant(), address, version(person), owes(person));
    }

    /** The same session after a change that its own person has made to the account. */
    public SignInStamp renewed(SignedInUser.Person person, SignInStamp before) {
        return new SignInStamp(before.at(), before.address(), version(person), before.owes());
    }

    private SignInStamp.Owes owes(SignedInUser.Person person) {
        if (factors.has(person.accountId())) {
            return SignInStamp.Owes.CODE;
        }
        return factors.mustHave(person) ? SignInStamp.Owes.SECOND_FACTOR : SignInStamp.Owes.NOTHING;
    }

    private int version(SignedInUser.Person person) {
        return accounts.findById(person.accountId()).map(Account::version).orElse(-1);
    }

    /**
     * Whether a session goes on. The account is read again each time, so that a role changed, a password reset or an
     * account deactivated takes effect with the next request, whatever sign-in ran beside it.
     */
    public boolean goesOn(SignedInUser.Person person, SignInStamp began, Instant lastUsed) {
        Instant now = clock.instant();
        boolean inTime = now.isBefore(began.at().plus(limits.session()))
                && now.isBefore(lastUsed.plus(limits.idle(person.role())));
        return inTime
                && accounts.findById(person.accountId())
                        .filter(account -> account.active()
                                && account.version() == began.version()
                                && account.person().equals(person))
                        .isPresent();
    }
}
