package org.earslot.clinic.kit;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** One set of reusable instruments, on its way round: clean, in use, dirty, in a cycle, clean. */
@Entity
public class InstrumentSet {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private UUID kindId;
    private int number;
    private String state;
    private @Nullable String cycleNumber;
    private Instant since;
    private boolean active;

    @Version
    private int version;

    protected InstrumentSet() {}

    InstrumentSet(ClinicId clinicId, UUID kindId, int number, Instant now) {
        this.id = UUID.randomUUID();
        this.clinicId = clinicId;
        this.kindId = kindId;
        this.number = number;
        this.active = true;
        this.state = State.DIRTY.code();
        this.since = now;
    }

    /** Where a set can be. */
    public enum State implements Word {
        CLEAN("clean"),
        IN_USE("in_use"),
        DIRTY("dirty"),
        IN_CYCLE("in_cycle");

        private final String code;

        State(String code) {
            this.code = code;
        }

        @Override
        public String code() {
            return code;
        }
    }

    /** Is laid out for a visit; false if it is not clean. */
    boolean use(Instant now) {
        return step(State.CLEAN, State.IN_USE, now);
    }

    /** Is done with; false if it was not in use. */
    boolean soil(Instant now) {
        return step(State.IN_USE, State.DIRTY, now);
    }

    /** Goes into the cycle of that number; false if it is not dirty. */
    boolean startCycle(String cycle, Instant now) {
        boolean started = step(State.DIRTY, State.IN_CYCLE, now);
        cycleNumber = started ? cycle : cycleNumber;
        return started;
    }

    /** Comes out of its cycle: clean if the cycle passed, dirty again if not. The number stays either way. */
    boolean endCycle(boolean passed, Instant now) {
        return step(State.IN_CYCLE, passed ? State.CLEAN : State.DIRTY, now);
    }

    private boolean step(State from, State to, Instant now) {
        if (!state.equals(from.code())) {
            return false;
        }
        state = to.code();
        since = now;
        return true;
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    public UUID kindId() {
        return kindId;
    }

    public int number() {
        return number;
    }

    /** Where it is, by its code. */
    public String state() {
        return state;
    }

    public Instant since() {
        return since;
    }

    /** The last cycle that it went into, whether it passed or failed. */
    public Optional<String> cycleNumber() {
        return Optional.ofNullable(cycleNumber);
    }
}
