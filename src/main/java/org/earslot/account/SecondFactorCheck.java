package org.earslot.account;

import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets a person's second factor up, asks for it at the sign-in, and removes it. */
@Service
public class SecondFactorCheck {

    private final SecondFactors factors;
    private final Accounts accounts;
    private final Clinics clinics;
    private final SignInPace pace;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    SecondFactorCheck(
            SecondFactors factors,
            Accounts accounts,
            Clinics clinics,
            SignInPace pace,
            Clock clock,
            ApplicationEventPublisher events) {
        this.factors = factors;
        this.accounts = accounts;
        this.clinics = clinics;
        this.pace = pace;
        this.clock = clock;
        this.events = events;
    }

    /** Whether the person has a second factor that counts. */
    @Transactional(readOnly = true)
    public boolean has(UUID accountId) {
        return factors.findById(accountId).filter(SecondFactor::confirmed).isPresent();
    }

    /** Recovery codes that the person has not used yet. */
    @Transactional(readOnly = true)
    public int recoveryCodesLeft(UUID accountId) {
        return factors.findById(accountId)
                .filter(SecondFactor::confirmed)
                .map(SecondFactor::recoveryCodesLeft)
                .orElse(0);
    }

    /** Whether the clinic asks one of everybody in that role. */
    @Transactional(readOnly = true)
    public boolean mustHave(SignedInUser.Person person) {
        return person.role() == Role.LEAD
                && clinics.findById(person.clinicId())
                        .filter(Clinic::leadsNeedSecondFactor)
                        .isPresent();
    }

    /** A new secret to put into the app, shown once; empty if a second factor counts already. */
    @Transactional
    public Optional<String> begin(SignedInUser.Person person) {
        SecondFactor factor = factors.hold(person.accountId()).orElseGet(() -> new SecondFactor(person));
        if (factor.confirmed()) {
            return Optional.empty();
        }
        String secret = factor.renewedSecret();
        factors.save(factor);
        return Optional.of(secret);
    }

    /** Lets the second factor count if the code is right; answers recovery codes, for the only time, or none. */
    @Transactional
    public List<String> confirm(SignedInUser.Person person, String code) {
        List<String> codes = factors
                .hold(person.accountId())
                .map(factor -> factor.confirm(code, clock.instant()))
                .orElse(List.of())
                .stream()
                .map(Secret::shown)
                .toList();
        if (!codes.isEmpty()) {
            announce(person.clinicId(), person.accountId(), "second-factor-set", person.name());
        }
        return codes;
    }

    /** Whether what was given at the sign-in is right: a code of the app or a recovery code. */
    @Transactional
    public boolean accepts(SignedInUser.Person person, String given, String address) {
        String name = "code of " + person.name();
        if (!pace.allows(name, address)) {
            return false;
        }
        SecondFactor.Given what = factors.hold(person.accountId())
                .map(factor -> factor.take(given, clock.instant()))
                .orElse(SecondFactor.Given.WRONG);
        if (what == SecondFactor.Given.WRONG) {
            pace.failed(name, address);
            announce(person.clinicId(), person.accountId(), "second-factor-refused", person.name());
            return false;
        }
        pace.succeeded(name, address);
        String action = what == SecondFactor.Given.CODE ? "second-factor-given" : "recovery-code-used";
        announce(person.clinicId(), person.accountId(), action, person.name());
        return true;
    }

    /** Removes an account's second factor; answers whether the clinic has that account. */
    @Transactional
    public boolean remove(ClinicId clinicId, UUID accountId) {
        Optional<Account> account = accounts.findByClinicIdAndId(clinicId, accountId);
        account.ifPresent(known -> {
            factors.deleteById(accountId);
            announce(clinicId, accountId, "second-factor-removed", known.signInName());
        });
        return account.isPresent();
    }

    /** Asks one of all leads from their next sign-in on, or of nobody. */
    @Transactional
    public void askOfLeads(ClinicId clinicId, boolean must) {
        clinics.findById(clinicId).orElseThrow().askSecondFactorOfLeads(must);
        events.publishEvent(new Audited.Entry(
                clinicId, "second-factor-policy", "set-up", clinicId.toString(), must ? "leads must" : "offered"));
    }

    private void announce(ClinicId clinicId, UUID accountId, String action, String name) {
        events.publishEvent(new Audited.Entry(clinicId, action, "account", accountId.toString(), name));
    }
}
