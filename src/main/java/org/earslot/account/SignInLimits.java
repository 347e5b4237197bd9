package org.earslot.account;

import java.time.Duration;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * The limits of signing in, settings {@code earslot.sign-in.*}.
 *
 * @param attempts wrong passwords in a row for one name from one address before the next must wait
 * @param firstWait how long the next waits then; doubled by each further wrong one
 * @param longestWait the longest such wait
 * @param perAddress wrong passwords or keys taken from one address at once, whatever the names
 * @param addressRefill how long it takes until one more is taken from it
 * @param hashesAtOnce passwords hashed at the same time, each taking 19 MiB of memory and a processor
 * @param hashWait how long a password waits for its turn before the asker is told to come back
 * @param session how long a session lasts at most, used or not
 * @param idle how long a session of a receptionist or practitioner may be idle
 * @param idleLead how long a session of a lead may be idle
 * @param handedPassword how long a password serves that someone else has set
 */
@ConfigurationProperties("earslot.sign-in")
public record SignInLimits(
        @DefaultValue("5") int attempts,
        @DefaultValue("5s") Duration firstWait,
        @DefaultValue("5m") Duration longestWait,
        @DefaultValue("50") int perAddress,
        @DefaultValue("5s") Duration addressRefill,
        @DefaultValue("2") int hashesAtOnce,
        @DefaultValue("10s") Duration hashWait,
        @DefaultValue("12h") Duration session,
        @DefaultValue("4h") Duration idle,
        @DefaultValue("45m") Duration idleLead,
        @DefaultValue("3d") Duration handedPassword) {

    /** How long a session of that role may be idle. */
    public Duration idle(Role role) {
        return role == Role.LEAD ? idleLead : idle;
    }
}
