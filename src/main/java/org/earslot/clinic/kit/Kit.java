package org.earslot.clinic.kit;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Rooms;
import org.earslot.ear.Method;
import org.earslot.page.Problem;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets the kit up and keeps where each set is; each verb does its work whole, or says why not. */
@Service
public class Kit {

    private final KitUnits units;
    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final SetUses uses;
    private final SetCycles cycles;
    private final StockItems stock;
    private final Rooms rooms;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Kit(
            KitUnits units,
            InstrumentKinds kinds,
            InstrumentSets sets,
            SetUses uses,
            SetCycles cycles,
            StockItems stock,
            Rooms rooms,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.units = units;
        this.kinds = kinds;
        this.sets = sets;
        this.uses = uses;
        this.cycles = cycles;
        this.stock = stock;
        this.rooms = rooms;
        this.clock = clock;
        this.events = events;
    }

    /** Adds a unit ({@code id} empty), or changes one. */
    @Transactional
    public Optional<Problem> unit(
            UUID clinicId,
            Optional<UUID> id,
            String name,
            @Nullable Method method,
            @Nullable UUID roomId,
            boolean active) {
        Optional<KitUnit> namesake = units.findByClinicIdAndName(clinicId, name);
        if (namesake.filter(other -> !Optional.of(other.id()).equals(id)).isPresent()) {
            return taken(name);
        }
        if (roomId != null && rooms.findByClinicIdAndId(clinicId, roomId).isEmpty()) {
            return gone("room");
        }
        if (id.isEmpty()) {
            return done(
                    clinicId,
                    "kit-added",
                    units.save(new KitUnit(clinicId, name, method, roomId)).id());
        }
        Optional<KitUnit> known = units.findByClinicIdAndId(clinicId, id.get());
        known.ifPresent(unit -> unit.amend(name, method, roomId, active));
        return known.isEmpty() ? gone("unit") : done(clinicId, "kit-changed", id.get());
    }

    /** Adds a kind of set with {@code count} sets, all dirty until their first cycle. */
    @Transactional
    public Optional<Problem> kind(
            UUID clinicId, String name, Method method, int count, int cycleMinutes, int testMinutes) {
        if (kinds.findByClinicIdAndName(clinicId, name).isPresent()) {
            return taken(name);
        }
        InstrumentKind kind = kinds.saveAndFlush(new InstrumentKind(clinicId, name, method, cycleMinutes, testMinutes));
        for (int number = 1; number <= count; number++) {
            sets.save(new InstrumentSet(clinicId, kind.id(), number, clock.now()));
        }
        return done(clinicId, "instrument-kind-added", kind.id());
    }

    /** Adds an item of stock. */
    @Transactional
    public Optional<Problem> item(UUID clinicId, String name, int least) {
        if (stock.findByClinicIdAndName(clinicId, name).isPresent()) {
            return taken(name);
        }
        return done(
                clinicId,
                "stock-added",
                stock.save(new StockItem(clinicId, name, least)).id());
    }

    /** Keeps the morning's count; false if there is no such item. */
    @Transactional
    public boolean count(UUID clinicId, UUID itemId, int found, String who) {
        Optional<StockItem> item = stock.findByClinicIdAndId(clinicId, itemId);
        item.ifPresent(one -> {
            one.count(found, who, clock.now());
            done(clinicId, "stock-counted", itemId);
        });
        return item.isPresent();
    }

    /** Puts every dirty set of a kind into one cycle; how many went in. */
    @Transactional
    public int startCycle(UUID clinicId, UUID kindId, String cycleNumber) {
        List<InstrumentSet> started = ofKind(clinicId, kindId).stream()
                .filter(set -> set.startCycle(cycleNumber, clock.now()))
                .toList();
        started.forEach(set -> {
            cycles.save(new SetCycle(set, cycleNumber, clock.now()));
            done(clinicId, "set-cycle-started", set.id());
        });
        return started.size();
    }

    /** The kinds of which a cycle has not yet run for its time. */
    public List<UUID> runningKinds(UUID clinicId) {
        return kinds.findByClinicIdOrderByName(clinicId).stream()
                .map(InstrumentKind::id)
                .filter(id -> cycleRuns(clinicId, id))
                .toList();
    }

    /** Whether a set of that kind is in a cycle whose time is not up. */
    @Transactional(readOnly = true)
    public boolean cycleRuns(UUID clinicId, UUID kindId) {
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
    public int endCycle(UUID clinicId, UUID kindId, boolean passed, @Nullable String saidBy) {
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
    public boolean use(UUID clinicId, UUID setId, UUID appointmentId, String who) {
        Optional<InstrumentSet> set = sets.findByClinicIdAndId(clinicId, setId).filter(one -> one.use(clock.now()));
        set.ifPresent(one -> {
            uses.save(new SetUse(clinicId, one, appointmentId, who, clock.now()));
            done(clinicId, "set-used", setId);
        });
        return set.isPresent();
    }

    /** A set has been used; false if it was not in use. */
    @Transactional
    public boolean soil(UUID clinicId, UUID setId) {
        boolean soiled = sets.findByClinicIdAndId(clinicId, setId)
                .filter(one -> one.soil(clock.now()))
                .isPresent();
        if (soiled) {
            done(clinicId, "set-dirty", setId);
        }
        return soiled;
    }

    private List<InstrumentSet> ofKind(UUID clinicId, UUID kindId) {
        return sets.findByClinicIdOrderByNumber(clinicId).stream()
                .filter(set -> set.kindId().equals(kindId))
                .toList();
    }

    private Optional<Problem> done(UUID clinicId, String action, UUID subject) {
        events.publishEvent(new Audited.Entry(clinicId, action, "kit", subject.toString(), null));
        return Optional.empty();
    }

    private static Optional<Problem> taken(String name) {
        return Optional.of(new Problem("name", name, "a name not yet used", "choose another name"));
    }

    private static Optional<Problem> gone(String what) {
        return Optional.of(new Problem(what, "", "a " + what + " of this clinic", "load the page again"));
    }
}
