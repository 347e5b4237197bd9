package org.earslot.testing;

import java.util.UUID;
import org.earslot.account.Role;
import org.earslot.account.SignedInUser;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Makes a request that of a signed-in person or program of a clinic: {@code get("/day").with(SignedIn.lead(clinic))}. */
public final class SignedIn {

    /** The session's cookie as MockMvc sees it; a real server takes the name from the settings. */
    public static final String COOKIE = "SESSION";

    private SignedIn() {}

    public static RequestPostProcessor receptionist(ClinicId clinicId) {
        return as(person(clinicId, Role.RECEPTIONIST, null));
    }

    /** A practitioner whose account belongs to {@code practitionerId}. */
    public static RequestPostProcessor practitioner(ClinicId clinicId, UUID practitionerId) {
        return as(person(clinicId, Role.PRACTITIONER, practitionerId));
    }

    public static RequestPostProcessor lead(ClinicId clinicId) {
        return as(person(clinicId, Role.LEAD, null));
    }

    /** A program, for paths below /api/v1. */
    public static RequestPostProcessor program(ClinicId clinicId) {
        return as(new SignedInUser.Program(clinicId, "program"));
    }

    /** Any person or program. */
    public static RequestPostProcessor as(SignedInUser asker) {
        return SecurityMockMvcRequestPostProcessors.authentication(authentication(asker));
    }

    /** For tests without HTTP: put it into the security context. */
    public static Authentication authentication(SignedInUser asker) {
        return UsernamePasswordAuthenticationToken.authenticated(asker, null, asker.authorities());
    }

    /** A person named like the role. */
    public static SignedInUser.Person person(ClinicId clinicId, Role role, @Nullable UUID practitionerId) {
        return new SignedInUser.Person(UUID.randomUUID(), clinicId, role.code(), role, practitionerId, false);
    }
}
