package org.earslot.account;

import java.util.Optional;
import org.earslot.page.Busy;
import org.jspecify.annotations.Nullable;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.AuthenticationServiceException;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.stereotype.Component;

/** Lets people in by name and password; refuses alike, and as slowly, whether the name or the password is why. */
@Component
public class PasswordSignIn implements AuthenticationProvider {

    private static final int LONGEST_PASSWORD = 256;

    private final Accounts accounts;
    private final Passwords passwords;
    private final SignInAttempts attempts;

    PasswordSignIn(Accounts accounts, Passwords passwords, SignInAttempts attempts) {
        this.accounts = accounts;
        this.passwords = passwords;
        this.attempts = attempts;
    }

    @Override
    public Authentication authenticate(Authentication asked) {
        String password = String.valueOf(asked.getCredentials());
        if (password.length() > LONGEST_PASSWORD) {
            throw new BadCredentialsException("refused");
        }
        SignedInUser.Person person = check(Account.plain(asked.getName()), password, SourceAddress.of(asked))
                .orElseThrow(() -> new BadCredentialsException("refused"));
        return UsernamePasswordAuthenticationToken.authenticated(person, null, person.authorities());
    }

    private Optional<SignedInUser.Person> check(String name, String password, String address) {
        if (!attempts.allows(name, address)) {
            return Optional.empty();
        }
        try {
            @Nullable Account account = accounts.findBySignInName(name).orElse(null);
            if (account == null) {
                passwords.matchNobody(password, address);
                attempts.countUnknown(name, address);
                return Optional.empty();
            }
            boolean right = passwords.matches(password, account.passwordHash(), address);
            return attempts.count("signed-in", account, right, address);
        } catch (Busy busy) {
            throw new AuthenticationServiceException("busy", busy);
        }
    }

    @Override
    public boolean supports(Class<?> authentication) {
        return UsernamePasswordAuthenticationToken.class.isAssignableFrom(authentication);
    }
}
