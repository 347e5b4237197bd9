package org.earslot.account;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Lets other programs in, and out again. */
@Service
public class Programs {

    private final IntegrationKeys keys;
    private final Clock clock;
    private final ClinicClock clinicClock;
    private final ApplicationEventPublisher events;

    Programs(IntegrationKeys keys, Clock clock, ClinicClock clinicClock, ApplicationEventPublisher events) {
        this.keys = keys;
        this.clock = clock;
        this.clinicClock = clinicClock;
        this.events = events;
    }

    /** Makes a key that may read and write and has no end; empty if the name is taken. */
    @Transactional
    public Optional<String> admit(ClinicId clinicId, String name) {
        return admit(clinicId, name, true, null);
    }

    /**
     * Makes a key and answers it, for the only time; empty if the name is taken.
     *
     * @param lastDay the last day on which it counts; null for no end
     */
    @Transactional
    public Optional<String> admit(ClinicId clinicId, String name, boolean mayWrite, @Nullable LocalDate lastDay) {
        if (keys.findByName(name).isPresent()) {
            return Optional.empty();
        }
        Secret key = Secret.key();
        Instant end = lastDay == null ? null : clinicClock.at(clinicId, lastDay.plusDays(1), LocalTime.MIDNIGHT);
        IntegrationKey kept =
                keys.saveAndFlush(new IntegrationKey(UUID.randomUUID(), clinicId, name, key.hash(), clock.instant())
                        .limitedTo(mayWrite, end));
        announce(kept, "integration-created");
        return Optional.of(key.shown());
    }

    /** Withdraws a key for good; answers whether the clinic has it. */
    @Transactional
    public boolean withdraw(ClinicId clinicId, UUID id) {
        Optional<IntegrationKey> key = keys.findByClinicIdAndId(clinicId, id);
        key.ifPresent(kept -> {
            kept.withdraw(clock.instant());
            announce(kept, "integration-withdrawn");
        });
        return key.isPresent();
    }

    private void announce(IntegrationKey key, String action) {
        events.publishEvent(new Audited.Entry(
                key.clinicId(), action, "integration", key.id().toString(), key.name()));
    }
}
