package org.earslot.account;

import java.time.Duration;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * The limits of signing in, settings {@code earslot.sign-in.*}.
 *
 * @param attempts wrong passwords in a row that lock an account
 * @param lock how long it is locked
 * @param hashesAtOnce passwords hashed at the same time, each taking 19 MiB of memory and a processor
 * @param hashWait how long a password waits for its turn before the asker is told to come back
 * @param session how long a signed-in person may be idle
 */
@ConfigurationProperties("earslot.sign-in")
public record SignInLimits(
        @DefaultValue("5") int attempts,
        @DefaultValue("15m") Duration lock,
        @DefaultValue("2") int hashesAtOnce,
        @DefaultValue("3s") Duration hashWait,
        @DefaultValue("12h") Duration session) {}
