package org.earslot.account;

import java.util.Optional;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.stereotype.Component;

/** Lets programs in by name and key; people's passwords mean nothing here. */
@Component
public class KeySignIn implements AuthenticationProvider {

    private final IntegrationKeys keys;

    KeySignIn(IntegrationKeys keys) {
        this.keys = keys;
    }

    @Override
    public Authentication authenticate(Authentication asked) {
        String hash = new Secret(String.valueOf(asked.getCredentials())).hash();
        Optional<IntegrationKey> key = keys.findByName(asked.getName());
        Asker.Program program = key.filter(found -> found.accepts(hash))
                .map(IntegrationKey::program)
                .orElseThrow(() -> new BadCredentialsException("refused"));
        return UsernamePasswordAuthenticationToken.authenticated(program, null, program.authorities());
    }

    @Override
    public boolean supports(Class<?> authentication) {
        return UsernamePasswordAuthenticationToken.class.isAssignableFrom(authentication);
    }
}
