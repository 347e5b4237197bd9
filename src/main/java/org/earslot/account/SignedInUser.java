package org.earslot.account;

import java.io.Serializable;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.security.core.AuthenticatedPrincipal;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.authority.SimpleGrantedAuthority;

/** Who asks: a person who has signed in, or a program with a key. */
public sealed interface SignedInUser extends AuthenticatedPrincipal, Serializable {

    ClinicId clinicId();

    /** The sign-in name of the person, or the program's name. */
    String name();

    /** The authorities that the rules of paths and methods look for. */
    List<GrantedAuthority> authorities();

    @Override
    default String getName() {
        return name();
    }

    /**
     * A person who has signed in.
     *
     * @param practitionerId the practitioner the account belongs to
     * @param mustChangePassword whether the password was given by someone else, so that nothing else may be done first
     */
    record Person(
            UUID accountId,
            ClinicId clinicId,
            String name,
            Role role,
            @Nullable UUID practitionerId,
            boolean mustChangePassword)
            implements SignedInUser {

        @Override
        public List<GrantedAuthority> authorities() {
            return List.of(new SimpleGrantedAuthority(role.authority()));
        }
    }

    /**
     * A program that uses the interface for other programs.
     *
     * @param mayWrite whether it may change anything, besides reading
     */
    record Program(ClinicId clinicId, String name, boolean mayWrite) implements SignedInUser {

        /** What every program may do: read what the interface for programs offers. */
        public static final String AUTHORITY = "ROLE_INTEGRATION";

        /** What only some may do: change things. */
        public static final String WRITES = "ROLE_INTEGRATION_WRITES";

        /** A program that may read and write. */
        public Program(ClinicId clinicId, String name) {
            this(clinicId, name, true);
        }

        @Override
        public List<GrantedAuthority> authorities() {
            GrantedAuthority reads = new SimpleGrantedAuthority(AUTHORITY);
            return mayWrite ? List.of(reads, new SimpleGrantedAuthority(WRITES)) : List.of(reads);
        }
    }
}
