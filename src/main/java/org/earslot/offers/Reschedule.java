package org.earslot.offers;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** A change of a day that was made as a whole and can be undone as a whole. */
@Entity
@Table(name = "rearrangement")
public class Reschedule {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private LocalDate clinicDate;
    private String fix;
    private String madeBy;
    private Instant madeAt;
    private @Nullable String undoneBy;
    private @Nullable Instant undoneAt;

    @Version
    private int version;

    protected Reschedule() {}

    Reschedule(UUID id, ClinicId clinicId, LocalDate date, DayFix fix, String who, Instant at) {
        this.id = id;
        this.clinicId = clinicId;
        this.clinicDate = date;
        this.fix = fix.code();
        this.madeBy = who;
        this.madeAt = at;
    }

    void takeBack(String who, Instant at) {
        undoneBy = who;
        undoneAt = at;
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    /** The day that was to be improved. */
    public LocalDate date() {
        return clinicDate;
    }

    public DayFix fix() {
        return DayFix.of(fix).orElseThrow();
    }

    public String madeBy() {
        return madeBy;
    }

    public Instant madeAt() {
        return madeAt;
    }

    /** When it was undone, if it was. */
    public Optional<Instant> undoneAt() {
        return Optional.ofNullable(undoneAt);
    }
}
