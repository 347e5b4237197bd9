package org.earslot.exchange.imports;

import java.util.EnumSet;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.ear.Method;
import org.earslot.exchange.csv.Cells;

/**
 * The names of one clinic's practitioners and rooms, during one run. A name that is not set up is created where the run was
 * asked to; a practitioner created so holds the methods that the file plans with that name.
 */
public final class SetUpNames {

    private final ImportTerms terms;
    private final ImportResult importResult;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Map<String, UUID> practitionerIds = new HashMap<>();
    private final Map<String, UUID> roomIds = new HashMap<>();
    private final Map<UUID, Set<Method>> createdWith = new HashMap<>();

    SetUpNames(ImportTerms terms, ImportResult importResult, Practitioners practitioners, Rooms rooms) {
        this.terms = terms;
        this.importResult = importResult;
        this.practitioners = practitioners;
        this.rooms = rooms;
        practitioners.findByClinicIdOrderByName(terms.clinicId()).forEach(p -> practitionerIds.put(p.name(), p.id()));
        rooms.findByClinicIdOrderByName(terms.clinicId()).forEach(room -> roomIds.put(room.name(), room.id()));
    }

    /** The practitioner of that name, created if that was asked for; else empty, with the fault noted. */
    public Optional<UUID> practitioner(Cells cells, String name) {
        UUID known = practitionerIds.get(name);
        if (known != null || !mayCreate(cells, "practitioner", name)) {
            return Optional.ofNullable(known);
        }
        UUID id = UUID.randomUUID();
        practitioners.saveAndFlush(new Practitioner(id, terms.clinicId(), name, null, EnumSet.noneOf(Method.class)));
        practitionerIds.put(name, id);
        createdWith.put(id, EnumSet.noneOf(Method.class));
        importResult.create(name);
        return Optional.of(id);
    }

    /** The room of that name, created if that was asked for; else empty, with the fault noted. */
    public Optional<UUID> room(Cells cells, String name) {
        UUID known = roomIds.get(name);
        if (known != null || !mayCreate(cells, "room", name)) {
            return Optional.ofNullable(known);
        }
        UUID id = UUID.randomUUID();
        rooms.saveAndFlush(new Room(id, terms.clinicId(), name));
        roomIds.put(name, id);
        importResult.create(name);
        return Optional.of(id);
    }

    /** Notes a method that the file plans with a practitioner. */
    public void planned(UUID practitionerId, Method method) {
        Set<Method> methods = createdWith.get(practitionerId);
        if (methods != null) {
            methods.add(method);
        }
    }

    /** Gives the created practitioners the methods that were planned with them. */
    public void finish() {
        createdWith.forEach((id, methods) -> {
            Practitioner created = practitioners.findById(id).orElseThrow();
            created.amend(created.name(), null, methods, true);
        });
    }

    private boolean mayCreate(Cells cells, String column, String name) {
        if (!terms.createNames()) {
            cells.fault(
                    column,
                    "no " + column + " of this name is set up",
                    "add it in set-up, correct the name, or let the import create the names it does not know");
        }
        return terms.createNames();
    }
}
