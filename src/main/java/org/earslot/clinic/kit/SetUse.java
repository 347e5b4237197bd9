package org.earslot.clinic.kit;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** Which set, out of which cycle, was used at an appointment. */
@Entity
public class SetUse {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID setId;
    private UUID appointmentId;
    private @Nullable String cycleNumber;
    private String who;
    private Instant at;

    protected SetUse() {}

    SetUse(ClinicId clinicId, InstrumentSet set, UUID appointmentId, String who, Instant at) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.setId = set.id();
        this.appointmentId = appointmentId;
        this.cycleNumber = set.cycleNumber().orElse(null);
        this.who = who;
        this.at = at;
    }

    public UUID setId() {
        return setId;
    }

    public UUID appointmentId() {
        return appointmentId;
    }

    public Optional<String> cycleNumber() {
        return Optional.ofNullable(cycleNumber);
    }

    public Instant at() {
        return at;
    }
}
