package org.earslot.account.web;

import java.util.Optional;
import java.util.UUID;
import org.earslot.account.Account;
import org.earslot.account.Role;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioners;
import org.earslot.page.FormVersion;
import org.jspecify.annotations.Nullable;

/** The form of an account as typed. */
record AccountForm(
        @Nullable String signInName,
        @Nullable String displayName,
        @Nullable String role,
        @Nullable String practitioner) {

    AccountForm {
        signInName = signInName == null ? "" : signInName;
        displayName = displayName == null ? "" : displayName;
        role = role == null ? "" : role;
        practitioner = practitioner == null ? "" : practitioner;
    }

    static AccountForm empty() {
        return new AccountForm("", "", Role.RECEPTIONIST.code(), "");
    }

    static AccountForm of(Account account) {
        return new AccountForm(
                account.signInName(),
                account.displayName(),
                account.role().code(),
                account.practitionerId().map(UUID::toString).orElse(""));
    }

    /** Of what the form of an account shows; signing in does not change it. */
    static FormVersion version(Account account) {
        return FormVersion.ofText(account.role().code() + " "
                + account.practitionerId().map(UUID::toString).orElse(""));
    }

    /** A role with the practitioner it belongs to: a practitioner has one, a lead may, a receptionist has none. */
    record Assignment(Role role, @Nullable UUID practitionerId) {}

    Assignment assignment(Checks checks, ClinicId clinicId, Practitioners practitioners) {
        Optional<Role> chosen = Role.of(role);
        if (chosen.isEmpty()) {
            checks.problem("role", role, "role");
        }
        Optional<UUID> id = Checks.id(practitioner);
        boolean known = id.flatMap(found -> practitioners.findByClinicIdAndId(clinicId, found))
                .isPresent();
        if (!practitioner.isBlank() && !known) {
            checks.problem("practitioner", "", "practitioner");
        } else if (chosen.equals(Optional.of(Role.PRACTITIONER)) && !known) {
            checks.problem("practitioner", "", "practitionerNeeded");
        } else if (chosen.equals(Optional.of(Role.RECEPTIONIST)) && known) {
            checks.problem("practitioner", "", "practitionerNotForReception");
        }
        return new Assignment(chosen.orElse(Role.RECEPTIONIST), id.orElse(null));
    }
}
