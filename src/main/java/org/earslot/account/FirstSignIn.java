package org.earslot.account;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The first person's way in, as long as nobody has an account: a code from the log makes the clinic and its lead. */
@Service
@Profile("!demo")
public class FirstSignIn {

    private final FirstSignInCodes codes;
    private final Accounts accounts;
    private final Clinics clinics;
    private final Policies policies;
    private final Passwords passwords;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    FirstSignIn(
            FirstSignInCodes codes,
            Accounts accounts,
            Clinics clinics,
            Policies policies,
            Passwords passwords,
            Clock clock,
            ApplicationEventPublisher events) {
        this.codes = codes;
        this.accounts = accounts;
        this.clinics = clinics;
        this.policies = policies;
        this.passwords = passwords;
        this.clock = clock;
        this.events = events;
    }

    /** Whether nobody has an account yet. */
    public boolean awaited() {
        return accounts.count() == 0;
    }

    /** Makes a new code in place of any before it; none if somebody has an account. */
    @Transactional
    Optional<Secret> newCode() {
        if (!awaited()) {
            return Optional.empty();
        }
        codes.deleteAll(codes.hold());
        Secret code = Secret.code();
        codes.save(new FirstSignInCode(UUID.randomUUID(), code, clock.instant()));
        return Optional.of(code);
    }

    /**
     * What the first person says of the clinic and of themselves.
     *
     * @param contact for letters; may be given later
     */
    public record Beginning(
            String clinicName,
            ZoneId zone,
            ClinicContact contact,
            String signInName,
            String displayName,
            String password) {

        @Override
        public String toString() {
            return "Beginning";
        }
    }

    /** Makes the clinic, its starting policy and its lead; answers whether the code was right and of use. */
    @Transactional
    public boolean begin(String code, Beginning beginning) {
        Instant now = clock.instant();
        Secret given = new Secret(code.strip().toLowerCase(Locale.ROOT));
        boolean right = codes.hold().stream().anyMatch(kept -> kept.take(given, now));
        if (!right || !awaited()) {
            return false;
        }
        Clinic opened = new Clinic(ClinicId.random(), beginning.clinicName(), beginning.zone(), now);
        opened.reachAt(beginning.contact());
        Clinic clinic = clinics.save(opened);
        policies.save(Policy.starting(clinic.id()));
        Account lead = accounts.save(new Account(
                UUID.randomUUID(),
                clinic.id(),
                beginning.signInName(),
                beginning.displayName(),
                passwords.hash(beginning.password()),
                Role.LEAD,
                null,
                now));
        events.publishEvent(new SignInAttempted(lead.signInName(), "clinic-opened", lead));
        return true;
    }
}
