package org.earslot.account;

import java.io.Serializable;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Lets people of a clinic in, in which role, and out again. */
@Service
public class AccountAdministration {

    private final Accounts accounts;
    private final Passwords passwords;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    AccountAdministration(Accounts accounts, Passwords passwords, Clock clock, ApplicationEventPublisher events) {
        this.accounts = accounts;
        this.passwords = passwords;
        this.clock = clock;
        this.events = events;
    }

    /** What came of a change. */
    public enum Change {
        DONE,
        /** The clinic has no such account. */
        NOT_THERE,
        /** Nobody could set the clinic's accounts any more. */
        LAST_LEAD
    }

    /** A password to hand over, which serves for one sign-in; shown once and kept nowhere. */
    public record Handed(String signInName, String password) implements Serializable {

        @Override
        public String toString() {
            return "Handed";
        }
    }

    /** Makes an account; empty if the sign-in name is taken. */
    @Transactional
    public Optional<Handed> admit(
            ClinicId clinicId, String signInName, String displayName, Role role, @Nullable UUID practitionerId) {
        String name = Account.plain(signInName);
        if (accounts.findBySignInName(name).isPresent()) {
            return Optional.empty();
        }
        String password = Secret.code().shown();
        String hash = passwords.hash(password);
        Account account = new Account(
                UUID.randomUUID(), clinicId, name, displayName, hash, role, practitionerId, clock.instant());
        account.handPassword(hash, clock.instant());
        accounts.saveAndFlush(account);
        announce(account, "account-created", role.code());
        return Optional.of(new Handed(name, password));
    }

    /** Gives a person another role, and the practitioner that the account belongs to. */
    @Transactional
    public Change assign(ClinicId clinicId, UUID accountId, Role role, @Nullable UUID practitionerId) {
        return change(
                clinicId,
                accountId,
                role != Role.LEAD,
                "account-role-changed",
                account -> account.assign(role, practitionerId));
    }

    /** Lets a person in no more. */
    @Transactional
    public Change deactivate(ClinicId clinicId, UUID accountId) {
        return change(clinicId, accountId, true, "account-deactivated", Account::deactivate);
    }

    /** Lets a person in again. */
    @Transactional
    public Change reactivate(ClinicId clinicId, UUID accountId) {
        return change(clinicId, accountId, false, "account-reactivated", Account::reactivate);
    }

    /** Replaces a forgotten password; empty if the clinic has no such account. */
    @Transactional
    public Optional<Handed> handNewPassword(ClinicId clinicId, UUID accountId) {
        String password = Secret.code().shown();
        Change change = change(
                clinicId,
                accountId,
                false,
                "account-password-reset",
                account -> account.handPassword(passwords.hash(password), clock.instant()));
        return change == Change.DONE
                ? accounts.findById(accountId).map(account -> new Handed(account.signInName(), password))
                : Optional.empty();
    }

    private Change change(ClinicId clinicId, UUID accountId, boolean endsLead, String action, Consumer<Account> verb) {
        // Held before the account is read: two leads who remove each other come one after the other.
        List<Account> leads = accounts.holdLeads(clinicId);
        Account account = accounts.findByClinicIdAndId(clinicId, accountId).orElse(null);
        if (account == null) {
            return Change.NOT_THERE;
        }
        boolean othersRemain =
                leads.stream().anyMatch(lead -> lead.activeLead() && !lead.id().equals(accountId));
        if (endsLead && account.activeLead() && !othersRemain) {
            return Change.LAST_LEAD;
        }
        verb.accept(account);
        announce(account, action, account.role().code());
        events.publishEvent(new SessionsRevoked(account.signInName(), null));
        return Change.DONE;
    }

    private void announce(Account account, String action, String detail) {
        events.publishEvent(new Audited.Entry(
                account.clinicId(), action, "account", account.id().toString(), account.signInName() + ", " + detail));
    }
}
