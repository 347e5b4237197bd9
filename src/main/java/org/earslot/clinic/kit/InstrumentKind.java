package org.earslot.clinic.kit;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Method;

/** A kind of reusable instrument set, how long its cycle takes, and the test cycle first thing. */
@Entity
public class InstrumentKind {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String name;
    private Method method;
    private int cycleMinutes;
    private int testMinutes;
    private boolean active;

    protected InstrumentKind() {}

    InstrumentKind(ClinicId clinicId, String name, Method method, int cycleMinutes, int testMinutes) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.name = name;
        this.method = method;
        this.cycleMinutes = cycleMinutes;
        this.testMinutes = testMinutes;
        this.active = true;
    }

    public UUID id() {
        return id;
    }

    public String name() {
        return name;
    }

    /** The method that takes one set for each visit. */
    public Method method() {
        return method;
    }

    /** Minutes from dirty to clean, once the cycle is started. */
    public int cycleMinutes() {
        return cycleMinutes;
    }

    /** Minutes of the test cycle before the first cycle of the day. */
    public int testMinutes() {
        return testMinutes;
    }

    public boolean active() {
        return active;
    }
}
