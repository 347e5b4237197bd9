package org.earslot.clinic.setup;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.AgeRange;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.SessionException;
import org.earslot.clinic.SessionExceptions;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTermChanges;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.page.Problem;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets a clinic up; each verb does its work whole, or says why not and changes nothing. */
@Service
public class SetUp {

    private final Clinics clinics;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions weekly;
    private final SessionExceptions exceptions;
    private final Sessions sessions;
    private final Policies policies;
    private final PolicyTermChanges termChanges;
    private final OtherVisitKinds kinds;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    SetUp(
            Clinics clinics,
            Practitioners practitioners,
            Rooms rooms,
            WeeklySessions weekly,
            SessionExceptions exceptions,
            Sessions sessions,
            Policies policies,
            PolicyTermChanges termChanges,
            OtherVisitKinds kinds,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.clinics = clinics;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.weekly = weekly;
        this.exceptions = exceptions;
        this.sessions = sessions;
        this.policies = policies;
        this.termChanges = termChanges;
        this.kinds = kinds;
        this.clock = clock;
        this.events = events;
    }

    /** Changes how the clinic is reached, as its letters say it. */
    @Transactional
    public Optional<Problem> reachAt(UUID clinicId, ClinicContact contact) {
        clinics.findById(clinicId).orElseThrow().reachAt(contact);
        return done(clinicId, "clinic-contact-changed", clinicId);
    }

    /** Changes the clinic's name and time zone. */
    @Transactional
    public Optional<Problem> rename(UUID clinicId, String name, ZoneId zone) {
        clinics.findById(clinicId).orElseThrow().rename(name, zone);
        clock.zoneChanged(clinicId);
        return done(clinicId, "clinic-renamed", clinicId);
    }

    /** Takes a practitioner in ({@code id} empty), or changes one. */
    @Transactional
    public Optional<Problem> practitioner(
            UUID clinicId,
            Optional<UUID> id,
            String name,
            @Nullable Ear hand,
            Set<Method> methods,
            AgeRange ages,
            boolean active) {
        Optional<Practitioner> namesake = practitioners.findByClinicIdAndName(clinicId, name);
        if (namesake.filter(other -> !Optional.of(other.id()).equals(id)).isPresent()) {
            return taken("name", name);
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
        return known.isEmpty() ? gone("practitioner") : done(clinicId, "practitioner-changed", id.get());
    }

    /** Adds a room ({@code id} empty), or changes one. */
    @Transactional
    public Optional<Problem> room(UUID clinicId, Optional<UUID> id, String name, boolean active) {
        Optional<Room> namesake = rooms.findByClinicIdAndName(clinicId, name);
        if (namesake.filter(other -> !Optional.of(other.id()).equals(id)).isPresent()) {
            return taken("name", name);
        }
        if (id.isEmpty()) {
            return done(
                    clinicId,
                    "room-added",
                    rooms.save(new Room(UUID.randomUUID(), clinicId, name)).id());
        }
        Optional<Room> known = rooms.findByClinicIdAndId(clinicId, id.get());
        known.ifPresent(room -> room.amend(name, active));
        return known.isEmpty() ? gone("room") : done(clinicId, "room-changed", id.get());
    }

    /** Adds another kind of visit ({@code id} empty), or changes one. */
    @Transactional
    public Optional<Problem> otherVisit(UUID clinicId, Optional<UUID> id, String name, int minutes, boolean active) {
        Optional<OtherVisitKind> namesake = kinds.findByClinicIdAndName(clinicId, name);
        if (namesake.filter(other -> !Optional.of(other.id()).equals(id)).isPresent()) {
            return taken("name", name);
        }
        if (id.isEmpty()) {
            OtherVisitKind added = kinds.save(new OtherVisitKind(UUID.randomUUID(), clinicId, name, minutes));
            return done(clinicId, "other-visit-added", added.id());
        }
        Optional<OtherVisitKind> known = kinds.findByClinicIdAndId(clinicId, id.get());
        known.ifPresent(kind -> kind.amend(name, minutes, active));
        return known.isEmpty() ? gone("other visit") : done(clinicId, "other-visit-changed", id.get());
    }

    /** Adds a weekly session, unless its practitioner or room is already in a session then. */
    @Transactional
    public Optional<Problem> addSession(
            UUID clinicId,
            UUID practitionerId,
            UUID roomId,
            DayOfWeek day,
            TimeSpan span,
            @Nullable TimeSpan pause,
            LocalDate validFrom) {
        if (practitioners.findByClinicIdAndId(clinicId, practitionerId).isEmpty()) {
            return gone("practitioner");
        }
        if (rooms.findByClinicIdAndId(clinicId, roomId).isEmpty()) {
            return gone("room");
        }
        if (pause != null && !span.contains(pause)) {
            return Optional.of(new Problem(
                    "breakFrom",
                    pause.from() + " to " + pause.to(),
                    "a break from " + span.from() + " to " + span.to(),
                    "move the break inside the session"));
        }
        Optional<WeeklySession> clash = weekly.findByClinicId(clinicId).stream()
                .filter(other -> other.day() == day && other.span().overlaps(span))
                .filter(other ->
                        other.validTo().map(last -> !last.isBefore(validFrom)).orElse(true))
                .filter(other -> other.practitionerId().equals(practitionerId)
                        || other.roomId().equals(roomId))
                .findFirst();
        if (clash.isPresent()) {
            return Optional.of(new Problem(
                    "from",
                    span.from() + " to " + span.to(),
                    "a time at which practitioner and room are free; one is in a session "
                            + clash.get().span().from() + " to "
                            + clash.get().span().to(),
                    "choose another time, or end that session first"));
        }
        WeeklySession added = weekly.save(
                new WeeklySession(UUID.randomUUID(), clinicId, practitionerId, roomId, day, span, pause, validFrom));
        return done(clinicId, "session-added", added.id());
    }

    /** Ends a weekly session; what is booked later stays where it is and is shown outside sessions. */
    @Transactional
    public Optional<Problem> endSession(UUID clinicId, UUID id, LocalDate lastDay) {
        Optional<WeeklySession> known = weekly.findByClinicIdAndId(clinicId, id);
        known.ifPresent(session -> session.endOn(lastDay));
        return known.isEmpty() ? gone("session") : done(clinicId, "session-ended", id);
    }

    /** Closes a day for one practitioner, or for all if none is named. */
    @Transactional
    public Optional<Problem> close(UUID clinicId, LocalDate date, @Nullable UUID practitionerId, String reason) {
        if (practitionerId != null
                && practitioners.findByClinicIdAndId(clinicId, practitionerId).isEmpty()) {
            return gone("practitioner");
        }
        SessionException closed =
                exceptions.save(SessionException.closed(UUID.randomUUID(), clinicId, date, practitionerId, reason));
        return done(clinicId, "day-closed", closed.id());
    }

    /** Adds one more session on a day. */
    @Transactional
    public Optional<Problem> addExtra(
            UUID clinicId, LocalDate date, UUID practitionerId, UUID roomId, TimeSpan span, String reason) {
        if (practitioners.findByClinicIdAndId(clinicId, practitionerId).isEmpty()) {
            return gone("practitioner");
        }
        if (rooms.findByClinicIdAndId(clinicId, roomId).isEmpty()) {
            return gone("room");
        }
        SessionException extra = exceptions.save(
                SessionException.extra(UUID.randomUUID(), clinicId, date, practitionerId, roomId, span, null, reason));
        return done(clinicId, "session-extra", extra.id());
    }

    /**
     * Lets {@code cover} hold one session in place of its practitioner; the other sessions of that day stay. What is booked
     * stays where it is until somebody hands it over.
     */
    @Transactional
    public Optional<Problem> cover(UUID clinicId, ClinicSession session, UUID cover, String reason) {
        if (practitioners
                .findByClinicIdAndId(clinicId, cover)
                .filter(Practitioner::active)
                .isEmpty()) {
            return gone("practitioner");
        }
        List<ClinicSession> held = sessions.on(clinicId, session.date());
        Optional<ClinicSession> clash = held.stream()
                .filter(other ->
                        other.practitionerId().equals(cover) && other.span().overlaps(session.span()))
                .findFirst();
        if (clash.isPresent()) {
            return Optional.of(new Problem(
                    "practitioner",
                    "",
                    "someone free from " + session.span().from() + " to "
                            + session.span().to(),
                    "choose another, or end their session " + clash.get().span().from() + " to "
                            + clash.get().span().to() + " first"));
        }
        Optional<SessionException> extra = exceptions.findByClinicIdAndId(clinicId, session.origin());
        if (extra.isPresent()) {
            exceptions.delete(extra.get());
        } else {
            exceptions.save(SessionException.closed(
                    UUID.randomUUID(), clinicId, session.date(), session.practitionerId(), reason));
            held.stream()
                    .filter(other -> other.practitionerId().equals(session.practitionerId()) && !other.equals(session))
                    .filter(other -> exceptions
                            .findByClinicIdAndId(clinicId, other.origin())
                            .isEmpty())
                    .forEach(other -> exceptions.save(held(clinicId, other, other.practitionerId(), reason)));
        }
        SessionException covered = exceptions.save(held(clinicId, session, cover, reason));
        return done(clinicId, "session-covered", covered.id());
    }

    private static SessionException held(UUID clinicId, ClinicSession session, UUID by, String reason) {
        return SessionException.extra(
                UUID.randomUUID(),
                clinicId,
                session.date(),
                by,
                session.roomId(),
                session.span(),
                session.pause().orElse(null),
                reason);
    }

    /** Takes an exception back. */
    @Transactional
    public Optional<Problem> dropException(UUID clinicId, UUID id) {
        Optional<SessionException> known = exceptions.findByClinicIdAndId(clinicId, id);
        known.ifPresent(exceptions::delete);
        return known.isEmpty() ? gone("exception") : done(clinicId, "exception-dropped", id);
    }

    /** Settles the policy; what some kinds of visit are given beyond their estimates stays, since it is set elsewhere. */
    @Transactional
    public Optional<Problem> settle(UUID clinicId, PolicyTerms terms) {
        if (terms.leastSlotMinutes() > terms.mostSlotMinutes()) {
            return Optional.of(new Problem(
                    "leastSlotMinutes",
                    String.valueOf(terms.leastSlotMinutes()),
                    "at most the longest slot, " + terms.mostSlotMinutes(),
                    "shorten the one or lengthen the other"));
        }
        Policy policy = policies.findById(clinicId).orElseThrow();
        Map<String, Double> before = PolicyTermChanges.of(policy);
        policy.settle(terms.with(
                new SlotTerms(terms.acceptedOverrunShare(), policy.terms().slotAdjustments())));
        termChanges.note(clinicId, clock.now(), before, PolicyTermChanges.of(policy));
        return done(clinicId, "policy-settled", clinicId);
    }

    /** Whether offers weigh the whole list, or go to the end of what is booked. */
    @Transactional
    public Optional<Problem> offerByWholeList(UUID clinicId, boolean whole) {
        policies.findById(clinicId).orElseThrow().offerByWholeList(whole);
        return done(clinicId, "policy-settled", clinicId);
    }

    private Optional<Problem> done(UUID clinicId, String action, UUID subject) {
        events.publishEvent(new Audited.Entry(clinicId, action, "set-up", subject.toString(), null));
        return Optional.empty();
    }

    private static Optional<Problem> taken(String field, String name) {
        return Optional.of(new Problem(field, name, "a name not yet used", "choose another name"));
    }

    private static Optional<Problem> gone(String what) {
        return Optional.of(new Problem(what, "", "a " + what + " of this clinic", "load the page again"));
    }
}
