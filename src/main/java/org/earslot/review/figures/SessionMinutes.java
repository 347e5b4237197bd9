package org.earslot.review.figures;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.jspecify.annotations.Nullable;

/**
 * How the sessions held were used: those with at least one visit whose times are known.
 *
 * @param endedLate sessions with a room ready after the session's end
 * @param overtime minutes past the sessions' ends, all together
 * @param idle minutes inside the sessions, breaks left out, with no patient in the room and no room being made ready
 * @param utilisation the share of the sessions' minutes that is not idle; null where there was no session
 * @param outside visits with known times that belong to no session, so that their overtime cannot be told
 * @param minutes minutes inside the sessions, breaks left out
 */
public record SessionMinutes(
        int sessions,
        Share endedLate,
        double overtime,
        double idle,
        @Nullable Double utilisation,
        int outside,
        double minutes) {

    /** A practitioner's day. */
    record Day(UUID practitionerId, LocalDate date) {

        static Day of(ClinicSession session) {
            return new Day(session.practitionerId(), session.date());
        }
    }

    public static SessionMinutes of(List<MeasuredVisit> visits, List<ClinicSession> held, ZoneId zone) {
        Map<Day, List<MeasuredVisit>> lists = visits.stream()
                .filter(MeasuredVisit::timed)
                .collect(Collectors.groupingBy(visit -> new Day(visit.practitionerId(), visit.date())));
        int outside = lists.values().stream().mapToInt(List::size).sum();
        int sessions = 0;
        int late = 0;
        double overtime = 0;
        double whole = 0;
        double busy = 0;
        List<ClinicSession> used = held.stream()
                .filter(session -> lists.containsKey(Day.of(session)))
                .sorted(Comparator.comparing(ClinicSession::date)
                        .thenComparing(
                                session -> lists.get(Day.of(session)).get(0).practitioner())
                        .thenComparing(session -> session.span().from()))
                .toList();
        for (ClinicSession session : used) {
            List<MeasuredVisit> list = lists.get(Day.of(session)).stream()
                    .filter(visit -> belongs(visit, session, zone))
                    .toList();
            if (list.isEmpty()) {
                continue;
            }
            outside -= list.size();
            sessions++;
            double past = past(list, session, zone);
            late += past > 0 ? 1 : 0;
            overtime += past;
            for (Stretch stretch : Stretch.of(session, zone)) {
                whole += stretch.minutes();
                busy += stretch.busy(list);
            }
        }
        return new SessionMinutes(
                sessions,
                new Share(late, sessions),
                overtime,
                whole - busy,
                whole == 0 ? null : busy / whole,
                outside,
                whole);
    }

    private static boolean belongs(MeasuredVisit visit, ClinicSession session, ZoneId zone) {
        Instant start = visit.bookedStart() == null ? visit.calledIn() : visit.bookedStart();
        LocalTime time = LocalTime.ofInstant(start, zone);
        return !time.isBefore(session.span().from())
                && time.isBefore(session.span().to());
    }

    private static double past(List<MeasuredVisit> list, ClinicSession session, ZoneId zone) {
        Instant end = session.date().atTime(session.span().to()).atZone(zone).toInstant();
        Instant last = list.stream()
                .map(MeasuredVisit::ready)
                .max(Comparator.naturalOrder())
                .orElseThrow();
        return Math.max(0, Stretch.minutes(end, last));
    }

    /** A part of a session without its break. */
    private record Stretch(Instant from, Instant to) {

        static List<Stretch> of(ClinicSession session, ZoneId zone) {
            List<Stretch> stretches = new ArrayList<>();
            LocalTime from = session.span().from();
            if (session.pause().isPresent()) {
                TimeSpan pause = session.pause().get();
                stretches.add(at(session, from, pause.from(), zone));
                from = pause.to();
            }
            stretches.add(at(session, from, session.span().to(), zone));
            return stretches;
        }

        private static Stretch at(ClinicSession session, LocalTime from, LocalTime to, ZoneId zone) {
            return new Stretch(
                    session.date().atTime(from).atZone(zone).toInstant(),
                    session.date().atTime(to).atZone(zone).toInstant());
        }

        double minutes() {
            return minutes(from, to);
        }

        /** The minutes that some visit fills; two at once count once. */
        double busy(List<MeasuredVisit> list) {
            double sum = 0;
            Instant until = from;
            for (MeasuredVisit visit : list.stream()
                    .sorted(Comparator.comparing(MeasuredVisit::calledIn))
                    .toList()) {
                Instant start = visit.calledIn().isAfter(until) ? visit.calledIn() : until;
                Instant end = visit.ready().isBefore(to) ? visit.ready() : to;
                if (end.isAfter(start)) {
                    sum += minutes(start, end);
                    until = end;
                }
            }
            return sum;
        }

        static double minutes(Instant from, Instant to) {
            return Duration.between(from, to).toMillis() / 60_000.0;
        }
    }
}
