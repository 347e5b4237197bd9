package org.earslot.clinic.kit;

import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.SetUpRefusal;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets the kit up and counts the stock; each verb does its work whole, or says why not. */
@Service
public class Kit {

    private final KitUnits units;
    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final StockItems stock;
    private final Rooms rooms;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    Kit(
            KitUnits units,
            InstrumentKinds kinds,
            InstrumentSets sets,
            StockItems stock,
            Rooms rooms,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.units = units;
        this.kinds = kinds;
        this.sets = sets;
        this.stock = stock;
        this.rooms = rooms;
        this.clock = clock;
        this.events = events;
    }

    /** Adds a unit ({@code id} empty), or changes one. */
    @Transactional
    public Optional<SetUpRefusal> unit(
            ClinicId clinicId,
            Optional<UUID> id,
            String name,
            @Nullable Method method,
            @Nullable UUID roomId,
            boolean active) {
        Optional<KitUnit> namesake = units.findByClinicIdAndName(clinicId, name);
        if (namesake.filter(other -> !Optional.of(other.id()).equals(id)).isPresent()) {
            return Optional.of(SetUpRefusal.nameTaken(name));
        }
        if (roomId != null && rooms.findByClinicIdAndId(clinicId, roomId).isEmpty()) {
            return Optional.of(SetUpRefusal.notOfClinic("room"));
        }
        if (id.isEmpty()) {
            return done(
                    clinicId,
                    "kit-added",
                    units.save(new KitUnit(clinicId, name, method, roomId)).id());
        }
        Optional<KitUnit> known = units.findByClinicIdAndId(clinicId, id.get());
        known.ifPresent(unit -> unit.amend(name, method, roomId, active));
        return known.isEmpty()
                ? Optional.of(SetUpRefusal.notOfClinic("unit"))
                : done(clinicId, "kit-changed", id.get());
    }

    /** Adds a kind of set with {@code count} sets, all dirty until their first cycle. */
    @Transactional
    public Optional<SetUpRefusal> kind(
            ClinicId clinicId, String name, Method method, int count, int cycleMinutes, int testMinutes) {
        if (kinds.findByClinicIdAndName(clinicId, name).isPresent()) {
            return Optional.of(SetUpRefusal.nameTaken(name));
        }
        InstrumentKind kind = kinds.saveAndFlush(new InstrumentKind(clinicId, name, method, cycleMinutes, testMinutes));
        for (int number = 1; number <= count; number++) {
            sets.save(new InstrumentSet(clinicId, kind.id(), number, clock.now()));
        }
        return done(clinicId, "instrument-kind-added", kind.id());
    }

    /** Adds an item of stock. */
    @Transactional
    public Optional<SetUpRefusal> item(ClinicId clinicId, String name, int least) {
        if (stock.findByClinicIdAndName(clinicId, name).isPresent()) {
            return Optional.of(SetUpRefusal.nameTaken(name));
        }
        return done(
                clinicId,
                "stock-added",
                stock.save(new StockItem(clinicId, name, least)).id());
    }

    /** Keeps the morning's count; false if there is no such item. */
    @Transactional
    public boolean count(ClinicId clinicId, UUID itemId, int found, String who) {
        Optional<StockItem> item = stock.findByClinicIdAndId(clinicId, itemId);
        item.ifPresent(one -> {
            one.count(found, who, clock.now());
            done(clinicId, "stock-counted", itemId);
        });
        return item.isPresent();
    }

    private Optional<SetUpRefusal> done(ClinicId clinicId, String action, Object subject) {
        events.publishEvent(new Audited.Entry(clinicId, action, "kit", subject.toString(), null));
        return Optional.empty();
    }
}
