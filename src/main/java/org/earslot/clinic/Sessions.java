package org.earslot.clinic;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.UUID;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The sessions really held: the weekly pattern with its exceptions applied. */
@Service
public class Sessions {

    private static final Comparator<ClinicSession> BY_TIME = Comparator.comparing(ClinicSession::date)
            .thenComparing(session -> session.span().from());

    private final WeeklySessions weekly;
    private final SessionExceptions exceptions;

    Sessions(WeeklySessions weekly, SessionExceptions exceptions) {
        this.weekly = weekly;
        this.exceptions = exceptions;
    }

    /** The sessions of one day, by their starts. */
    public List<ClinicSession> on(UUID clinicId, LocalDate date) {
        return between(clinicId, date, date);
    }

    /** The sessions from {@code first} to {@code last}, both included, by date and start. */
    @Transactional(readOnly = true)
    public List<ClinicSession> between(UUID clinicId, LocalDate first, LocalDate last) {
        List<WeeklySession> pattern = weekly.findByClinicId(clinicId);
        List<SessionException> departures = exceptions.findByClinicIdAndDateBetween(clinicId, first, last);
        List<ClinicSession> held = new ArrayList<>();
        for (LocalDate date = first; !date.isAfter(last); date = date.plusDays(1)) {
            LocalDate day = date;
            List<SessionException> today = departures.stream()
                    .filter(departure -> departure.date().equals(day))
                    .toList();
            pattern.stream()
                    .filter(session -> session.heldOn(day))
                    .filter(session ->
                            today.stream().noneMatch(departure -> departure.closes(session.practitionerId())))
                    .map(session -> new ClinicSession(
                            session.id(),
                            session.practitionerId(),
                            session.roomId(),
                            day,
                            session.span(),
                            session.pause()))
                    .forEach(held::add);
            today.stream()
                    .flatMap(departure -> departure.extraSession().stream())
                    .forEach(held::add);
        }
        held.sort(BY_TIME);
        return held;
    }
}
