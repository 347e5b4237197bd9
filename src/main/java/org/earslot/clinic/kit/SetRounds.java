package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Where each instrument set is on its round: laid out, used, in a cycle, clean again. */
@Service
public class SetRounds {

    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final SetUses uses;
    private final SetCycles cycles;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    SetRounds(
            InstrumentKinds kinds,
            InstrumentSets sets,
            SetUses uses,
            SetCycles cycles,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.kinds = kinds;
        this.sets = sets;
        this.uses = uses;
        this.cycles = cycles;
        this.clock = clock;
        this.events = events;
    }

    /** Puts every dirty set of a kind into one cycle; how many went in. */
    @Transactional
    public int startCycle(ClinicId clinicId, UUID kindId, String cycleNumber) {
        List<InstrumentSet> started = ofKind(clinicId, kindId).stream()
                .filter(set -> set.startCycle(cycleNumber, clock.now()))
                .toList();
        started.forEach(set -> {
            cycles.save(new SetCycle(set, cycleNumber, clock.now()));
            audit(clinicId, "set-cycle-started", set.id());
        });
        return started.size();
    }

    /** The kinds of which a cycle has not yet run for its time. */
    public List<UUID> runningKinds(ClinicId clinicId) {
        return kinds.findByClinicIdOrderByName(clinicId).stream()
                .map(InstrumentKind::id)
                .filter(id -> cycleRuns(clinicId, id))
                .toList();
    }

    /** Whether a set of that kind is in a cycle whose time is not up. */
    @Transactional(readOnly = true)
    public boolean cycleRuns(ClinicId clinicId, UUID kindId) {
        long minutes = kinds.findByClinicIdOrderByName(clinicId).stream()
                .filter(kind -> kind.id().equals(kindId))
                .mapToLong(InstrumentKind::cycleMinutes)
                .sum();
        return ofKind(clinicId, kindId).stream()
                .filter(set -> set.state().equals(InstrumentSet.State.IN_CYCLE.code()))
                .anyMatch(set -> clock.now().isBefore(set.since().plusSeconds(60 * minutes)));
    }

    /**
     * Ends the cycle of a kind; how many sets came out. One whose time is not up has passed only where somebody says so.
     *
     * @param saidBy who says that it passed before its time; null for nobody
     */
    @Transactional
    public int endCycle(ClinicId clinicId, UUID kindId, boolean passed, @Nullable String saidBy) {
        boolean early = passed && cycleRuns(clinicId, kindId);
        if (early && saidBy == null) {
            return 0;
        }
        List<InstrumentSet> ended = ofKind(clinicId, kindId).stream()
                .filter(set -> set.endCycle(passed, clock.now()))
                .toList();
        ended.forEach(set -> {
            cycles.findFirstByClinicIdAndSetIdAndEndedAtIsNullOrderByStartedAtDesc(clinicId, set.id())
                    .ifPresent(cycle -> cycle.end(passed, clock.now()));
            String detail = early ? "before its time, said by " + saidBy : null;
            String action = passed ? "set-cycle-passed" : "set-cycle-failed";
            events.publishEvent(
                    new Audited.Entry(clinicId, action, "kit", set.id().toString(), detail));
        });
        return ended.size();
    }

    /** Lays a clean set out for an appointment and keeps set and cycle with it; false if it is not clean. */
    @Transactional
    public boolean use(ClinicId clinicId, UUID setId, UUID appointmentId, String who) {
        Optional<InstrumentSet> set = sets.findByClinicIdAndId(clinicId, setId).filter(one -> one.use(clock.now()));
        set.ifPresent(one -> {
            uses.save(new SetUse(clinicId, one, appointmentId, who, clock.now()));
            audit(clinicId, "set-used", setId);
        });
        return set.isPresent();
    }

    /** A set has been used; false if it was not in use. */
    @Transactional
    public boolean soil(ClinicId clinicId, UUID setId) {
        boolean soiled = sets.findByClinicIdAndId(clinicId, setId)
                .filter(one -> one.soil(clock.now()))
                .isPresent();
        if (soiled) {
            audit(clinicId, "set-dirty", setId);
        }
        return soiled;
    }

    private List<InstrumentSet> ofKind(ClinicId clinicId, UUID kindId) {
        return sets.findByClinicIdOrderByNumber(clinicId).stream()
                .filter(set -> set.kindId().equals(kindId))
                .toList();
    }

    private void audit(ClinicId clinicId, String action, UUID set) {
        events.publishEvent(new Audited.Entry(clinicId, action, "kit", set.toString(), null));
    }
}
