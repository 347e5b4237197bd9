package org.earslot.testing;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Primary;

/** A clock that stands until it is set; import {@link Bringing} into a test's application. */
public final class SettableClock extends Clock {

    private final Instant first;
    private volatile Instant now;

    public SettableClock(Instant now) {
        first = now;
        this.now = now;
    }

    /** To where it began. */
    void setBack() {
        now = first;
    }

    public void set(Instant instant) {
        now = instant;
    }

    public void advance(Duration duration) {
        now = now.plus(duration);
    }

    @Override
    public Instant instant() {
        return now;
    }

    @Override
    public ZoneId getZone() {
        return ZoneOffset.UTC;
    }

    @Override
    public Clock withZone(ZoneId zone) {
        return Clock.fixed(now, zone);
    }

    /** Puts a settable clock in the place of the system's; it starts on Tuesday 3 March 2026, 09:00 UTC. */
    @TestConfiguration
    public static class Bringing {
        @Bean
        @Primary
        SettableClock settableClock() {
            return new SettableClock(Instant.parse("2026-03-03T09:00:00Z"));
        }
    }
}
