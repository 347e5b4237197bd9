package org.earslot.account;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.springframework.security.authentication.AuthenticationCredentialsNotFoundException;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;

/** The clinic of whoever has signed in. */
@Component
class AuthenticatedClinic implements CurrentClinic {

    @Override
    public ClinicId id() {
        return asker().clinicId();
    }

    @Override
    public String who() {
        return asker().name();
    }

    @Override
    public Optional<UUID> practitionerId() {
        return asker() instanceof SignedInUser.Person person
                ? Optional.ofNullable(person.practitionerId())
                : Optional.empty();
    }

    /** Who asks, if anyone is known to. */
    static Optional<SignedInUser> ifKnown() {
        Authentication authentication = SecurityContextHolder.getContext().getAuthentication();
        return authentication != null && authentication.getPrincipal() instanceof SignedInUser signedInUser
                ? Optional.of(signedInUser)
                : Optional.empty();
    }

    private static SignedInUser asker() {
        return ifKnown().orElseThrow(() -> new AuthenticationCredentialsNotFoundException("nobody has signed in"));
    }
}
