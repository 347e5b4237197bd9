package org.earslot.clinic.kit;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** One sterilisation cycle that one set went through. It keeps its number whether it passed or failed. */
@Entity
public class SetCycle {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID setId;
    private String cycleNumber;
    private Instant startedAt;
    private @Nullable Instant endedAt;
    private @Nullable Boolean passed;

    protected SetCycle() {}

    SetCycle(InstrumentSet set, String cycleNumber, Instant startedAt) {
        this.id = UUID.randomUUID();
        this.clinicId = set.clinicId();
        this.setId = set.id();
        this.cycleNumber = cycleNumber;
        this.startedAt = startedAt;
    }

    void end(boolean hasPassed, Instant now) {
        passed = hasPassed;
        endedAt = now;
    }

    public UUID setId() {
        return setId;
    }

    public String cycleNumber() {
        return cycleNumber;
    }

    public Instant startedAt() {
        return startedAt;
    }

    /** Whether it passed; empty while it runs. */
    public Optional<Boolean> passed() {
        return Optional.ofNullable(passed);
    }
}
