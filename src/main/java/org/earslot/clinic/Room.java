package org.earslot.clinic;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.util.UUID;

/** A room with a chair. */
@Entity
public class Room {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String name;
    private boolean active;

    @Version
    private int version;

    protected Room() {}

    public Room(UUID id, ClinicId clinicId, String name) {
        this.id = id;
        this.clinicId = clinicId;
        this.name = name;
        this.active = true;
    }

    /** Changes the name, or takes the room out of use. */
    public void amend(String newName, boolean stillActive) {
        name = newName;
        active = stillActive;
    }

    public int version() {
        return version;
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public String name() {
        return name;
    }

    public boolean active() {
        return active;
    }
}
