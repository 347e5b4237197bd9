package org.earslot.account;

import java.io.Serializable;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.springframework.security.core.AuthenticatedPrincipal;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.authority.SimpleGrantedAuthority;

/** Who asks: a person who has signed in, or a program with a key. */
public sealed interface Asker extends AuthenticatedPrincipal, Serializable {

    UUID clinicId();

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
            UUID clinicId,
            String name,
            Role role,
            @Nullable UUID practitionerId,
            boolean mustChangePassword)
            implements Asker {

        @Override
        public List<GrantedAuthority> authorities() {
            return List.of(new SimpleGrantedAuthority(role.authority()));
        }
    }

    /** A program that uses the interface for other programs. */
    record Program(UUID clinicId, String name) implements Asker {

        /** What a program may do: all that the interface for programs offers. */
        public static final String AUTHORITY = "ROLE_INTEGRATION";

        @Override
        public List<GrantedAuthority> authorities() {
            return List.of(new SimpleGrantedAuthority(AUTHORITY));
        }
    }
}
