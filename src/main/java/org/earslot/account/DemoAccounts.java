package org.earslot.account;

import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The accounts of the invented clinic, whose passwords everyone may know. */
@Service
@Profile("demo")
public class DemoAccounts {

    /** The name of the one program that may use the demo's interface for programs. */
    public static final String PROGRAM = "demo-api";

    private final Accounts accounts;
    private final IntegrationKeys keys;
    private final Practitioners practitioners;
    private final Passwords passwords;
    private final Clock clock;
    private final String apiKey;

    DemoAccounts(
            Accounts accounts,
            IntegrationKeys keys,
            Practitioners practitioners,
            Passwords passwords,
            Clock clock,
            @Value("${earslot.demo.api-key}") String apiKey) {
        this.accounts = accounts;
        this.keys = keys;
        this.practitioners = practitioners;
        this.passwords = passwords;
        this.clock = clock;
        this.apiKey = apiKey;
    }

    /**
     * Makes the accounts {@code reception}, {@code lead} and one for each practitioner (the practitioner's name in
     * lower case, joined by dots), and the program's key. What exists already stays.
     */
    @Transactional
    public void open(UUID clinicId) {
        open(clinicId, "reception", "Reception", Role.RECEPTIONIST, null);
        open(clinicId, "lead", "Clinic lead", Role.LEAD, null);
        for (Practitioner practitioner : practitioners.findByClinicIdOrderByName(clinicId)) {
            String name = practitioner.name().toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]+", ".");
            open(clinicId, name, practitioner.name(), Role.PRACTITIONER, practitioner.id());
        }
        if (keys.findByName(PROGRAM).isEmpty()) {
            keys.save(new IntegrationKey(
                    UUID.randomUUID(), clinicId, PROGRAM, new Secret(apiKey).hash(), clock.instant()));
        }
    }

    private void open(UUID clinicId, String name, String displayName, Role role, @Nullable UUID practitionerId) {
        if (accounts.findBySignInName(name).isEmpty()) {
            accounts.save(new Account(
                    UUID.randomUUID(),
                    clinicId,
                    name,
                    displayName,
                    passwords.hash(password(name)),
                    role,
                    practitionerId,
                    clock.instant()));
        }
    }

    /** What the sign-in page shows. */
    @Transactional(readOnly = true)
    public List<Shown> shown() {
        List<Shown> shown = new ArrayList<>();
        for (Account account : accounts.findAll()) {
            if (account.active()) {
                shown.add(new Shown(
                        account.signInName(), password(account.signInName()), account.displayName(), account.role()));
            }
        }
        shown.sort(java.util.Comparator.comparing(Shown::role).thenComparing(Shown::signInName));
        return shown;
    }

    private static String password(String signInName) {
        return signInName + "-demo-password";
    }

    /** One line of the demo's sign-in page. */
    public record Shown(String signInName, String password, String displayName, Role role) {}
}
