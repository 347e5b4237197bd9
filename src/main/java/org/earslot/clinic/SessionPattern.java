package org.earslot.clinic;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** The weekly pattern and the exceptions of a stretch of days, which its sessions follow from. */
public final class SessionPattern {

    private static final Comparator<ClinicSession> BY_TIME = Comparator.comparing(ClinicSession::date)
            .thenComparing(session -> session.span().from());

    private final List<WeeklySession> weekly;
    private final List<SessionException> exceptions;

    SessionPattern(List<WeeklySession> weekly, List<SessionException> exceptions) {
        this.weekly =
                weekly.stream().sorted(Comparator.comparing(WeeklySession::id)).toList();
        this.exceptions = exceptions.stream()
                .sorted(Comparator.comparing(SessionException::id))
                .toList();
    }

    /** The sessions from {@code first} to {@code last}, both included and in the stretch, by date and start. */
    public List<ClinicSession> between(LocalDate first, LocalDate last) {
        List<ClinicSession> held = new ArrayList<>();
        for (LocalDate date = first; !date.isAfter(last); date = date.plusDays(1)) {
            LocalDate day = date;
            List<SessionException> today = exceptions.stream()
                    .filter(departure -> departure.date().equals(day))
                    .toList();
            weekly.stream()
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
