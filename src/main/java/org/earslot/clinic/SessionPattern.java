package org.earslot.clinic;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

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

    /** Tells the sessions from {@code first} to {@code last} apart from others without listing them: equal for equal ones. */
    public String text(LocalDate first, LocalDate last) {
        Stream<String> pattern = weekly.stream()
                .filter(session -> !session.validFrom().isAfter(last)
                        && session.validTo().map(to -> !to.isBefore(first)).orElse(true))
                .map(session -> Stream.of(
                                session.id(),
                                session.practitionerId(),
                                session.roomId(),
                                session.day(),
                                session.span(),
                                session.pause(),
                                later(session.validFrom(), first),
                                session.validTo()
                                        .filter(to -> to.isBefore(last))
                                        .orElse(last))
                        .map(Object::toString)
                        .collect(Collectors.joining(" ")));
        Stream<String> departures = exceptions.stream()
                .filter(departure ->
                        !departure.date().isBefore(first) && !departure.date().isAfter(last))
                .map(departure -> departure
                        .extraSession()
                        .map(ClinicSession::toString)
                        .orElse("closed " + departure.date() + " " + departure.practitionerId()));
        return Stream.concat(pattern, departures).collect(Collectors.joining("\n"));
    }

    private static LocalDate later(LocalDate one, LocalDate other) {
        return one.isAfter(other) ? one : other;
    }
}
