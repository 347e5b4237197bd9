package org.earslot.clinic;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import org.springframework.stereotype.Component;

/** The time as the clinic's wall clock shows it. */
@Component
public class ClinicClock {

    static final int MAXIMUM_CLINICS = 1_000;

    /** A time zone changed on another server is seen after this time at the latest. */
    static final Duration READ_AGAIN = Duration.ofSeconds(10);

    private final Clock clock;
    private final Clinics clinics;
    private final Cache<ClinicId, ZoneId> zones = Caffeine.newBuilder()
            .maximumSize(MAXIMUM_CLINICS)
            .expireAfterWrite(READ_AGAIN)
            .executor(Runnable::run)
            .build();

    ClinicClock(Clock clock, Clinics clinics) {
        this.clock = clock;
        this.clinics = clinics;
    }

    /** Now, to the second. */
    public Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.SECONDS);
    }

    /** The clinic's date now. */
    public LocalDate today(ClinicId clinicId) {
        return local(clinicId, now()).toLocalDate();
    }

    /** The wall clock at {@code instant}. */
    public LocalDateTime local(ClinicId clinicId, Instant instant) {
        return LocalDateTime.ofInstant(instant, zone(clinicId));
    }

    /** The instant at which the wall clock shows it; a time skipped in spring moves on, one doubled in autumn is the first. */
    public Instant at(ClinicId clinicId, LocalDate date, LocalTime time) {
        return date.atTime(time).atZone(zone(clinicId)).toInstant();
    }

    /** The clinic's time zone. */
    public ZoneId zone(ClinicId clinicId) {
        ZoneId known = zones.getIfPresent(clinicId);
        if (known != null) {
            return known;
        }
        ZoneId read = clinics.findById(clinicId).orElseThrow().zone();
        zones.put(clinicId, read);
        return read;
    }

    /** Forgets a zone that was changed in set-up. */
    public void zoneChanged(ClinicId clinicId) {
        zones.invalidate(clinicId);
    }
}
