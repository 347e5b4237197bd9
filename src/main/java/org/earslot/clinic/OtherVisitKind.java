package org.earslot.clinic;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.util.UUID;

/** Another kind of visit with a name and a fixed length: an impression, a hearing test, a fitting. */
@Entity
public class OtherVisitKind {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String name;
    private int minutes;
    private boolean active;

    @Version
    private int version;

    protected OtherVisitKind() {}

    public OtherVisitKind(UUID id, ClinicId clinicId, String name, int minutes) {
        this.id = id;
        this.clinicId = clinicId;
        this.name = name;
        this.minutes = minutes;
        this.active = true;
    }

    /** Changes the name or the length of visits booked from now on, or takes the kind out of use. */
    public void amend(String newName, int newMinutes, boolean stillActive) {
        name = newName;
        minutes = newMinutes;
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

    public int minutes() {
        return minutes;
    }

    public boolean active() {
        return active;
    }
}
