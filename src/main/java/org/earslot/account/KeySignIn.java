package org.earslot.account;

import java.time.Clock;
import java.time.Instant;
import java.util.Optional;
import java.util.stream.Stream;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.stereotype.Component;

/** Lets programs in by name and key; people's passwords mean nothing here. */
@Component
public class KeySignIn implements AuthenticationProvider {

    private final IntegrationKeys keys;
    private final Clinics clinics;
    private final SignInPace pace;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    KeySignIn(IntegrationKeys keys, Clinics clinics, SignInPace pace, Clock clock, ApplicationEventPublisher events) {
        this.keys = keys;
        this.clinics = clinics;
        this.pace = pace;
        this.clock = clock;
        this.events = events;
    }

    @Override
    public Authentication authenticate(Authentication asked) {
        String hash = new Secret(String.valueOf(asked.getCredentials())).hash();
        Instant now = clock.instant();
        Optional<IntegrationKey> key = keys.findByName(asked.getName());
        SignedInUser.Program program = key.filter(found -> found.accepts(hash, now))
                .map(found -> taken(found, now))
                .orElseThrow(() -> refused(asked, key));
        return UsernamePasswordAuthenticationToken.authenticated(program, null, program.authorities());
    }

    private SignedInUser.Program taken(IntegrationKey key, Instant now) {
        if (key.used(now)) {
            keys.save(key);
        }
        return key.program();
    }

    /** A wrong key is recorded as often as its sender's budget reaches, so that a crowd of them fills no trail. */
    private BadCredentialsException refused(Authentication asked, Optional<IntegrationKey> key) {
        String address = SourceAddress.of(asked);
        String name = "key " + asked.getName();
        if (pace.allows(name, address)) {
            pace.failed(name, address);
            Stream<ClinicId> meant = key.map(IntegrationKey::clinicId)
                    .map(Stream::of)
                    .orElseGet(() -> clinics.findAll().stream().map(Clinic::id));
            String subject = key.map(found -> found.id().toString()).orElse(null);
            String whose = key.map(IntegrationKey::name).orElse("unknown name");
            meant.forEach(clinic -> events.publishEvent(new SignInAttempted(
                    clinic,
                    SignInAttempted.VISITOR,
                    "key-refused",
                    "integration",
                    subject,
                    whose + ", from " + address)));
        }
        return new BadCredentialsException("refused");
    }

    @Override
    public boolean supports(Class<?> authentication) {
        return UsernamePasswordAuthenticationToken.class.isAssignableFrom(authentication);
    }
}
