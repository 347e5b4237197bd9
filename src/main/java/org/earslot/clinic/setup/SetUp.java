package org.earslot.clinic.setup;

import java.time.ZoneId;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.AgeRange;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.SetUpRefusal;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets up a clinic, who works there, and where; each verb does its work whole, or says why not and changes nothing. */
@Service
public class SetUp {

    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final OtherVisitKinds kinds;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    SetUp(
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            OtherVisitKinds kinds,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.kinds = kinds;
        this.clock = clock;
        this.events = events;
    }

    /** Changes how the clinic is reached, as its letters say it. */
    @Transactional
    public Optional<SetUpRefusal> reachAt(ClinicId clinicId, ClinicContact contact) {
        clinics.findById(clinicId).orElseThrow().reachAt(contact);
        return done(clinicId, "clinic-contact-changed", clinicId);
    }

    /** Changes the clinic's name and time zone. */
    @Transactional
    public Optional<SetUpRefusal> rename(ClinicId clinicId, String name, ZoneId zone) {
        clinics.findById(clinicId).orElseThrow().rename(name, zone);
        clock.zoneChanged(clinicId);
        return done(clinicId, "clinic-renamed", clinicId);
    }

    /** Takes a practitioner in ({@code id} empty), or changes one. */
    @Transactional
    public Optional<SetUpRefusal> practitioner(
            ClinicId clinicId,
            Optional<UUID> id,
            String name,
            @Nullable Ear hand,
            Set<Method> methods,
            AgeRange ages,
            boolean active) {
        Optional<Practitioner> namesake = practitioners.findByClinicIdAndName(clinicId, name);
        if (namesake.filter(other -> !Optional.of(other.id()).equals(id)).isPresent()) {
            return Optional.of(SetUpRefusal.nameTaken(name));
        }
        if (id.isEmpty()) {
            Practitioner added = new Practitioner(UUID.randomUUID(), clinicId, name, hand, methods);
            added.see(ages);
            practitioners.save(added);
            return done(clinicId, "practitioner-added", added.id());
        }
        Optional<Practitioner> known = practitioners.findByClinicIdAndId(clinicId, id.get());
        known.ifPresent(practitioner -> {
            practitioner.amend(name, hand, methods, active);
            practitioner.see(ages);
        });
        return known.isEmpty()
                ? Optional.of(SetUpRefusal.notOfClinic("practitioner"))
                : done(clinicId, "practitioner-changed", id.get());
    }

    /** Adds a room ({@code id} empty), or changes one. */
    @Transactional
    public Optional<SetUpRefusal> room(ClinicId clinicId, Optional<UUID> id, String name, boolean active) {
        Optional<Room> namesake = rooms.findByClinicIdAndName(clinicId, name);
        if (namesake.filter(other -> !Optional.of(other.id()).equals(id)).isPresent()) {
            return Optional.of(SetUpRefusal.nameTaken(name));
        }
        if (id.isEmpty()) {
            return done(
                    clinicId,
                    "room-added",
                    rooms.save(new Room(UUID.randomUUID(), clinicId, name)).id());
        }
        Optional<Room> known = rooms.findByClinicIdAndId(clinicId, id.get());
        known.ifPresent(room -> room.amend(name, active));
        return known.isEmpty()
                ? Optional.of(SetUpRefusal.notOfClinic("room"))
                : done(clinicId, "room-changed", id.get());
    }

    /** Adds another kind of visit ({@code id} empty), or changes one. */
    @Transactional
    public Optional<SetUpRefusal> otherVisit(
            ClinicId clinicId, Optional<UUID> id, String name, int minutes, boolean active) {
        Optional<OtherVisitKind> namesake = kinds.findByClinicIdAndName(clinicId, name);
        if (namesake.filter(other -> !Optional.of(other.id()).equals(id)).isPresent()) {
            return Optional.of(SetUpRefusal.nameTaken(name));
        }
        if (id.isEmpty()) {
            OtherVisitKind added = kinds.save(new OtherVisitKind(UUID.randomUUID(), clinicId, name, minutes));
            return done(clinicId, "other-visit-added", added.id());
        }
        Optional<OtherVisitKind> known = kinds.findByClinicIdAndId(clinicId, id.get());
        known.ifPresent(kind -> kind.amend(name, minutes, active));
        return known.isEmpty()
                ? Optional.of(SetUpRefusal.notOfClinic("other visit"))
                : done(clinicId, "other-visit-changed", id.get());
    }

    private Optional<SetUpRefusal> done(ClinicId clinicId, String action, Object subject) {
        events.publishEvent(new Audited.Entry(clinicId, action, "set-up", subject.toString(), null));
        return Optional.empty();
    }
}
