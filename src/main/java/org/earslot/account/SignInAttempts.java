package org.earslot.account;

import java.time.Clock;
import java.util.Optional;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.Clinics;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Counts right and wrong passwords by name and address, and puts each into the audit trail. */
@Service
class SignInAttempts {

    private final Accounts accounts;
    private final Clinics clinics;
    private final SignInPace pace;
    private final SignInLimits limits;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    SignInAttempts(
            Accounts accounts,
            Clinics clinics,
            SignInPace pace,
            SignInLimits limits,
            Clock clock,
            ApplicationEventPublisher events) {
        this.accounts = accounts;
        this.clinics = clinics;
        this.pace = pace;
        this.limits = limits;
        this.clock = clock;
        this.events = events;
    }

    /** Whether the name may be tried from the address now. */
    boolean allows(String name, String address) {
        return pace.allows(name, address);
    }

    /**
     * Counts the attempt.
     *
     * @param purpose what the audit trail calls it when the password is right
     * @param checked the account as it was when the password was compared
     * @return the person, if the password was right and the account is open, still with that password
     */
    @Transactional
    Optional<SignedInUser.Person> count(String purpose, Account checked, boolean right, String address) {
        Account account = accounts.hold(checked.id()).orElseThrow();
        boolean same = account.passwordHash().equals(checked.passwordHash());
        if (right && same && account.open(clock.instant(), limits.handedPassword())) {
            pace.succeeded(account.signInName(), address);
            events.publishEvent(new SignInAttempted(account.signInName(), purpose, account));
            return Optional.of(account.person());
        }
        boolean slowed = pace.failed(account.signInName(), address);
        events.publishEvent(SignInAttempted.refused(slowed ? "sign-in-slowed" : "sign-in-refused", account, address));
        return Optional.empty();
    }

    /** Counts an attempt under a name that nobody has, which may have been meant for any clinic. */
    @Transactional
    void countUnknown(String name, String address) {
        pace.failed(name, address);
        for (Clinic clinic : clinics.findAll()) {
            events.publishEvent(SignInAttempted.unknown(clinic.id(), address));
        }
    }
}
