package org.earslot.clinic.kit;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** A suction unit, an irrigator, an endoscope, a microscope: of one room, or movable. It serves one room at a time. */
@Entity
public class KitUnit {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String name;
    private @Nullable Method method;
    private @Nullable UUID roomId;
    private boolean active;

    @Version
    private int version;

    protected KitUnit() {}

    KitUnit(ClinicId clinicId, String name, @Nullable Method method, @Nullable UUID roomId) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.active = true;
        amend(name, method, roomId, true);
    }

    final void amend(String newName, @Nullable Method newMethod, @Nullable UUID room, boolean inUse) {
        name = newName;
        method = newMethod;
        roomId = room;
        active = inUse;
    }

    public int version() {
        return version;
    }

    public UUID id() {
        return id;
    }

    public String name() {
        return name;
    }

    /** The method that cannot do without it; empty if it only helps. */
    public Optional<Method> method() {
        return Optional.ofNullable(method);
    }

    /** The room it is in; empty if it is movable. */
    public Optional<UUID> roomId() {
        return Optional.ofNullable(roomId);
    }

    public boolean active() {
        return active;
    }
}
