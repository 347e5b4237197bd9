package org.earslot.account;

import java.time.Clock;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
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

    private static final String PASSWORD = "earslot-demo";
    private static final String RECEPTION = "reception";
    private static final String LEAD = "lead";

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
    public void open(ClinicId clinicId) {
        open(clinicId, RECEPTION, "Reception", Role.RECEPTIONIST, null);
        open(clinicId, LEAD, "Clinic lead", Role.LEAD, null);
        for (Practitioner practitioner : practitioners.findByClinicIdOrderByName(clinicId)) {
            open(clinicId, signInName(practitioner), practitioner.name(), Role.PRACTITIONER, practitioner.id());
        }
        if (keys.findByName(PROGRAM).isEmpty()) {
            keys.save(new IntegrationKey(
                    UUID.randomUUID(), clinicId, PROGRAM, new Secret(apiKey).hash(), clock.instant()));
        }
    }

    private void open(ClinicId clinicId, String name, String displayName, Role role, @Nullable UUID practitionerId) {
        if (accounts.findBySignInName(name).isEmpty()) {
            accounts.save(new Account(
                    UUID.randomUUID(),
                    clinicId,
                    name,
                    displayName,
                    passwords.hash(PASSWORD),
                    role,
                    practitionerId,
                    clock.instant()));
        }
    }

    /** What the sign-in page shows: the accounts made here, not those made since. */
    @Transactional(readOnly = true)
    public List<Shown> shown() {
        List<Shown> shown = new ArrayList<>();
        for (Account account : accounts.findAll()) {
            if (account.active() && passwordIsShown(account)) {
                shown.add(new Shown(account.signInName(), PASSWORD, account.displayName(), account.role()));
            }
        }
        shown.sort(Comparator.comparing(Shown::role).thenComparing(Shown::signInName));
        return shown;
    }

    private boolean passwordIsShown(Account account) {
        return switch (account.signInName()) {
            case RECEPTION, LEAD -> true;
            default ->
                account.practitionerId()
                        .flatMap(practitioners::findById)
                        .filter(practitioner -> signInName(practitioner).equals(account.signInName()))
                        .isPresent();
        };
    }

    private static String signInName(Practitioner practitioner) {
        return practitioner.name().toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]+", ".");
    }

    /** One line of the demo's sign-in page. */
    public record Shown(String signInName, String password, String displayName, Role role) {}
}
