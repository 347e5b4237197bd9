package org.earslot.clinic;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.time.ZoneId;
import org.jspecify.annotations.Nullable;

/** A clinic: the owner of every other record. */
@Entity
public class Clinic {

    @Id
    private ClinicId id;

    private String name;
    private String timeZone;
    private Instant createdAt;
    private @Nullable String phone;
    private @Nullable String address;
    private @Nullable String openingHours;
    private boolean demo;
    private boolean leadsNeedSecondFactor;

    @Version
    private int version;

    protected Clinic() {}

    public Clinic(ClinicId id, String name, ZoneId zone, Instant createdAt) {
        this.id = id;
        this.name = name;
        this.timeZone = zone.getId();
        this.createdAt = createdAt;
    }

    /** The clinic of demo mode, whose passwords and key everyone may know. */
    public static Clinic ofTheDemo(ClinicId id, String name, ZoneId zone, Instant createdAt) {
        Clinic clinic = new Clinic(id, name, zone, createdAt);
        clinic.demo = true;
        return clinic;
    }

    /** Takes a new name and time zone. */
    public void rename(String newName, ZoneId zone) {
        name = newName;
        timeZone = zone.getId();
    }

    public int version() {
        return version;
    }

    /** Is reached so from now on. */
    public void reachAt(ClinicContact contact) {
        phone = contact.phone();
        address = contact.address();
        openingHours = contact.openingHours();
    }

    public ClinicContact contact() {
        return new ClinicContact(phone, address, openingHours);
    }

    /** Asks a second factor of all leads, or of nobody. */
    public void askSecondFactorOfLeads(boolean must) {
        leadsNeedSecondFactor = must;
    }

    public boolean leadsNeedSecondFactor() {
        return leadsNeedSecondFactor;
    }

    public ClinicId id() {
        return id;
    }

    public String name() {
        return name;
    }

    public ZoneId zone() {
        return ZoneId.of(timeZone);
    }
}
