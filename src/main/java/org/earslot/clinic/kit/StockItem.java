package org.earslot.clinic.kit;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** Single-use stock, counted in the morning. */
@Entity
public class StockItem {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String name;
    private int least;
    private @Nullable Integer counted;
    private @Nullable Instant countedAt;
    private @Nullable String countedBy;

    protected StockItem() {}

    StockItem(ClinicId clinicId, String name, int least) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.name = name;
        this.least = least;
    }

    void count(int found, String who, Instant now) {
        counted = found;
        countedBy = who;
        countedAt = now;
    }

    public UUID id() {
        return id;
    }

    public String name() {
        return name;
    }

    /** Fewer than this are short. */
    public int least() {
        return least;
    }

    public Optional<Integer> counted() {
        return Optional.ofNullable(counted);
    }

    public Optional<Instant> countedAt() {
        return Optional.ofNullable(countedAt);
    }

    public boolean shortOf() {
        return counted != null && counted < least;
    }
}
