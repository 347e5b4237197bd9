package org.earslot.clinic.setup;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.SessionException;
import org.earslot.clinic.SessionExceptions;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.SetUpRefusal;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sets sessions up, and their exceptions; each verb does its work whole, or says why not and changes nothing. */
@Service
public class SessionSetUp {

    private final Practitioners practitioners;
    private final Rooms rooms;
    private final WeeklySessions weekly;
    private final SessionExceptions exceptions;
    private final Sessions sessions;
    private final ApplicationEventPublisher events;

    SessionSetUp(
            Practitioners practitioners,
            Rooms rooms,
            WeeklySessions weekly,
            SessionExceptions exceptions,
            Sessions sessions,
            ApplicationEventPublisher events) {
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.weekly = weekly;
        this.exceptions = exceptions;
        this.sessions = sessions;
        this.events = events;
    }

    /** Adds a weekly session, unless its practitioner or room is already in a session then. */
    @Transactional
    public Optional<SetUpRefusal> addSession(
            ClinicId clinicId,
            UUID practitionerId,
            UUID roomId,
            DayOfWeek day,
            TimeSpan span,
            @Nullable TimeSpan pause,
            LocalDate validFrom) {
        if (practitioners.findByClinicIdAndId(clinicId, practitionerId).isEmpty()) {
            return Optional.of(SetUpRefusal.notOfClinic("practitioner"));
        }
        if (rooms.findByClinicIdAndId(clinicId, roomId).isEmpty()) {
            return Optional.of(SetUpRefusal.notOfClinic("room"));
        }
        if (pause != null && !span.contains(pause)) {
            return Optional.of(SetUpRefusal.breakOutside(pause, span));
        }
        Optional<WeeklySession> clash = weekly.findByClinicId(clinicId).stream()
                .filter(other -> other.day() == day && other.span().overlaps(span))
                .filter(other ->
                        other.validTo().map(last -> !last.isBefore(validFrom)).orElse(true))
                .filter(other -> other.practitionerId().equals(practitionerId)
                        || other.roomId().equals(roomId))
                .findFirst();
        if (clash.isPresent()) {
            return Optional.of(SetUpRefusal.sessionThen(span, clash.get().span()));
        }
        WeeklySession added = weekly.save(
                new WeeklySession(UUID.randomUUID(), clinicId, practitionerId, roomId, day, span, pause, validFrom));
        return done(clinicId, "session-added", added.id());
    }

    /** Ends a weekly session; what is booked later stays where it is and is shown outside sessions. */
    @Transactional
    public Optional<SetUpRefusal> endSession(ClinicId clinicId, UUID id, LocalDate lastDay) {
        Optional<WeeklySession> known = weekly.findByClinicIdAndId(clinicId, id);
        known.ifPresent(session -> session.endOn(lastDay));
        return known.isEmpty() ? Optional.of(SetUpRefusal.notOfClinic("session")) : done(clinicId, "session-ended", id);
    }

    /** Closes a day for one practitioner, or for all if none is named. */
    @Transactional
    public Optional<SetUpRefusal> close(
            ClinicId clinicId, LocalDate date, @Nullable UUID practitionerId, String reason) {
        if (practitionerId != null
                && practitioners.findByClinicIdAndId(clinicId, practitionerId).isEmpty()) {
            return Optional.of(SetUpRefusal.notOfClinic("practitioner"));
        }
        SessionException closed =
                exceptions.save(SessionException.closed(UUID.randomUUID(), clinicId, date, practitionerId, reason));
        return done(clinicId, "day-closed", closed.id());
    }

    /** Adds one more session on a day. */
    @Transactional
    public Optional<SetUpRefusal> addExtra(
            ClinicId clinicId, LocalDate date, UUID practitionerId, UUID roomId, TimeSpan span, String reason) {
        if (practitioners.findByClinicIdAndId(clinicId, practitionerId).isEmpty()) {
            return Optional.of(SetUpRefusal.notOfClinic("practitioner"));
        }
        if (rooms.findByClinicIdAndId(clinicId, roomId).isEmpty()) {
            return Optional.of(SetUpRefusal.notOfClinic("room"));
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
    public Optional<SetUpRefusal> cover(ClinicId clinicId, ClinicSession session, UUID cover, String reason) {
        if (practitioners
                .findByClinicIdAndId(clinicId, cover)
                .filter(Practitioner::active)
                .isEmpty()) {
            return Optional.of(SetUpRefusal.notOfClinic("practitioner"));
        }
        List<ClinicSession> held = sessions.on(clinicId, session.date());
        Optional<ClinicSession> clash = held.stream()
                .filter(other ->
                        other.practitionerId().equals(cover) && other.span().overlaps(session.span()))
                .findFirst();
        if (clash.isPresent()) {
            return Optional.of(
                    SetUpRefusal.coverBusy(session.span(), clash.get().span()));
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

    private static SessionException held(ClinicId clinicId, ClinicSession session, UUID by, String reason) {
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
    public Optional<SetUpRefusal> dropException(ClinicId clinicId, UUID id) {
        Optional<SessionException> known = exceptions.findByClinicIdAndId(clinicId, id);
        known.ifPresent(exceptions::delete);
        return known.isEmpty()
                ? Optional.of(SetUpRefusal.notOfClinic("exception"))
                : done(clinicId, "exception-dropped", id);
    }

    private Optional<SetUpRefusal> done(ClinicId clinicId, String action, Object subject) {
        events.publishEvent(new Audited.Entry(clinicId, action, "set-up", subject.toString(), null));
        return Optional.empty();
    }
}
