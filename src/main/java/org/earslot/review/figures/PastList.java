package org.earslot.review.figures;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicSession;
import org.earslot.ear.Attendance;
import org.earslot.flow.list.Break;
import org.earslot.flow.list.Session;
import org.earslot.flow.past.RealisedVisit;
import org.earslot.flow.past.Replay;
import org.jspecify.annotations.Nullable;

/**
 * One practitioner's list of one past session; of what lies in no session, the rest of the day.
 *
 * @param session null where none is known
 */
public record PastList(LocalDate date, @Nullable ClinicSession session, List<MeasuredVisit> visits, ZoneId zone) {

    private record Day(UUID practitionerId, LocalDate date) {}

    private record Key(LocalDate date, UUID practitionerId, LocalTime from) {}

    /** By day, practitioner and start: names, not ids, so that the same log always adds up in the same order. */
    private static final Comparator<Map.Entry<Key, PastList>> IN_ORDER =
            Comparator.<Map.Entry<Key, PastList>, LocalDate>comparing(
                            entry -> entry.getKey().date())
                    .thenComparing(entry -> entry.getValue().visits().get(0).practitioner())
                    .thenComparing(entry -> entry.getKey().from());

    /** @param held the sessions of the days of {@code visits} */
    public static List<PastList> of(List<MeasuredVisit> visits, List<ClinicSession> held, ZoneId zone) {
        Map<Day, List<ClinicSession>> byDay = new HashMap<>();
        held.forEach(session -> byDay.computeIfAbsent(
                        new Day(session.practitionerId(), session.date()), day -> new ArrayList<>())
                .add(session));
        Map<Key, PastList> lists = new LinkedHashMap<>();
        for (MeasuredVisit visit : visits) {
            Optional<ClinicSession> session =
                    byDay.getOrDefault(new Day(visit.practitionerId(), visit.date()), List.of()).stream()
                            .filter(each -> begins(visit, each, zone))
                            .findFirst();
            LocalTime from = session.map(each -> each.span().from()).orElse(LocalTime.MIN);
            lists.computeIfAbsent(
                            new Key(visit.date(), visit.practitionerId(), from),
                            key -> new PastList(key.date(), session.orElse(null), new ArrayList<>(), zone))
                    .visits()
                    .add(visit);
        }
        return lists.entrySet().stream()
                .sorted(IN_ORDER)
                .map(Map.Entry::getValue)
                .toList();
    }

    private static boolean begins(MeasuredVisit visit, ClinicSession session, ZoneId zone) {
        LocalTime start = visit.bookedStart() != null
                ? LocalTime.ofInstant(visit.bookedStart(), zone)
                : visit.calledIn() != null ? LocalTime.ofInstant(visit.calledIn(), zone) : null;
        return start != null
                && !start.isBefore(session.span().from())
                && start.isBefore(session.span().to());
    }

    /** The visits that took part in the list, on the wall clock. */
    List<RealisedVisit> realised() {
        return visits.stream().flatMap(visit -> realised(visit).stream()).toList();
    }

    /** The visit on the wall clock; empty where it took part in no list that can be told. */
    private Optional<RealisedVisit> realised(MeasuredVisit visit) {
        String name = visit.id().toString();
        LocalTime booked = visit.fitIn() ? null : time(visit.bookedStart());
        if (visit.timed()) {
            LocalTime calledIn = time(visit.calledIn());
            LocalTime arrived = time(visit.arrived());
            LocalTime came = arrived == null && booked == null ? calledIn : arrived;
            return Optional.of(new RealisedVisit(name, booked, came, calledIn, time(visit.ready())));
        }
        boolean absent =
                visit.attendance() == Attendance.DID_NOT_ATTEND || visit.attendance() == Attendance.LATE_NOT_SEEN;
        return absent && booked != null ? Optional.of(RealisedVisit.absent(name, booked)) : Optional.empty();
    }

    /** Whether anybody's times are known. */
    public boolean timed() {
        return visits.stream().anyMatch(MeasuredVisit::timed);
    }

    /** Past midnight, or where the clocks go back, a later time stands earlier on the clock. */
    public boolean outOfOrderOnTheClock() {
        return visits.stream().anyMatch(visit -> {
            if (!visit.timed()) {
                return false;
            }
            var offset = zone.getRules().getOffset(Objects.requireNonNull(visit.ready()));
            return Objects.requireNonNull(time(visit.ready())).isBefore(Objects.requireNonNull(time(visit.calledIn())))
                    || !offset.equals(zone.getRules().getOffset(Objects.requireNonNull(visit.calledIn())));
        });
    }

    /** The session's hours; where none is known, from the first to the last that is known of the list. */
    Session hours() {
        if (session != null) {
            return Session.between(session.span().from(), session.span().to());
        }
        LocalTime from = first();
        LocalTime to = realised().stream()
                .map(RealisedVisit::roomReady)
                .filter(Objects::nonNull)
                .max(Comparator.naturalOrder())
                .orElseThrow();
        return Session.between(from, to.isAfter(from) ? to : LocalTime.MAX);
    }

    private LocalTime first() {
        return realised().stream()
                .flatMap(visit -> Stream.of(visit.booked(), visit.calledIn()))
                .filter(Objects::nonNull)
                .min(Comparator.naturalOrder())
                .orElseThrow();
    }

    /**
     * The list to run again: in its session with its break, where none is known until midnight. A booked visit of which
     * no times are known holds its slot and takes no time.
     */
    public Replay replay() {
        List<Replay.Held> held = new ArrayList<>();
        for (MeasuredVisit visit : visits) {
            Optional<RealisedVisit> realised = realised(visit);
            if (realised.isEmpty() && !visit.fitIn() && visit.bookedStart() != null) {
                realised = Optional.of(
                        RealisedVisit.absent(visit.id().toString(), Objects.requireNonNull(time(visit.bookedStart()))));
            }
            int slot = visit.slotMinutes() == null || visit.fitIn() ? 0 : visit.slotMinutes();
            realised.ifPresent(one -> held.add(new Replay.Held(one, slot)));
        }
        if (session == null) {
            return Replay.of(Session.between(first(), LocalTime.MAX), held);
        }
        List<Break> rests = session.pause().stream()
                .map(rest -> new Break(rest.from(), rest.to(), 0))
                .toList();
        return Replay.of(new Session(session.span().from(), session.span().to(), rests), held);
    }

    private @Nullable LocalTime time(@Nullable Instant instant) {
        return instant == null ? null : LocalTime.ofInstant(instant, zone);
    }
}
