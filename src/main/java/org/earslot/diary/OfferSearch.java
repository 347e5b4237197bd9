package org.earslot.diary;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.PolicyTerms;
import org.earslot.clinic.TimeSpan;
import org.earslot.diary.ListedVisit.Promised;
import org.earslot.diary.QuickRun.Stop;
import org.earslot.diary.SlotWish.PartOfDay;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.referral.Priority;
import org.jspecify.annotations.Nullable;

/**
 * Prices every free place and keeps the cheapest. All are priced by the quick pass, the best of those again by the whole
 * projection.
 *
 * <p>The price, in minutes: added wait of the others + own wait + {@value #LATE_END} x the chance to end late above what
 * the clinic accepts + the days until then, each at what the priority makes of it. These weights are the project's own
 * assumption.
 */
final class OfferSearch {

    private static final double LATE_END = 60;
    private static final UUID NEW = new UUID(0, 0);

    private final PolicyTerms policy;
    private final LocalDateTime now;
    private final ZoneId zone;
    private final double dayMinutes;
    private final Wanted wanted;
    private final Map<String, Promised> promises = new HashMap<>();
    private final Map<UUID, Promised> own = new HashMap<>();

    /**
     * What a place is wanted for.
     *
     * @param moved the appointment to move; null for a new booking
     * @param estimates by practitioner; those without keep the moved appointment's length
     * @param method null for another kind of visit
     */
    record Wanted(
            @Nullable Appointment moved,
            Map<UUID, Estimate> estimates,
            @Nullable Method method,
            PartOfDay partOfDay) {}

    /** A priced place. */
    record Found(
            ClinicSession session,
            LocalTime start,
            int slotMinutes,
            double ownWait,
            double addedWait,
            double lateEnd,
            boolean last,
            double price) {

        Offer offer(String practitioner, String room) {
            return new Offer(
                    session, practitioner, room, start, slotMinutes, ownWait, Math.max(0, addedWait), lateEnd, last);
        }
    }

    /** One booked place of a session, with its promise. */
    private record Listed(HeldPlace held, TimeSpan span, Promised promised) {}

    OfferSearch(PolicyTerms policy, LocalDateTime now, ZoneId zone, Priority priority, Wanted wanted) {
        this.policy = policy;
        this.now = now;
        this.zone = zone;
        this.wanted = wanted;
        this.dayMinutes = switch (priority) {
            case ROUTINE -> 0.3;
            case SOON -> 1.5;
            case URGENT -> 10;
        };
    }

    List<Found> best(List<ClinicSession> sessions, List<HeldPlace> booked, int atMost) {
        Map<LocalDate, List<Listed>> byDay = new HashMap<>();
        UUID self = wanted.moved() == null ? NEW : wanted.moved().id();
        booked.stream()
                .filter(held -> !held.id().equals(self))
                .forEach(held -> byDay.computeIfAbsent(held.date(), day -> new ArrayList<>())
                        .add(listed(held)));
        List<Found> quick = sessions.stream()
                .flatMap(session -> quick(session, byDay.getOrDefault(session.date(), List.of())))
                .sorted(Comparator.comparingDouble(Found::price))
                .limit(atMost)
                .toList();
        Map<String, ListRun> before = new HashMap<>();
        return quick.stream()
                .map(found -> whole(found, byDay.getOrDefault(found.session().date(), List.of()), before))
                .sorted(Comparator.comparingDouble(Found::price))
                .toList();
    }

    private Stream<Found> quick(ClinicSession session, List<Listed> day) {
        List<TimeSpan> taken = day.stream()
                .filter(listed -> listed.held().practitionerId().equals(session.practitionerId())
                        || listed.held().roomId().equals(session.roomId()))
                .map(Listed::span)
                .toList();
        int slot = slotMinutes(session.practitionerId());
        List<LocalTime> starts = window(session.date()) == null
                ? List.of()
                : FreePlaces.starts(session, taken, window(session.date()), slot, policy.gridMinutes());
        if (starts.isEmpty()) {
            return Stream.empty();
        }
        List<Stop> stops = inSession(session, day).map(OfferSearch::stop).toList();
        double from = minute(session.span().from());
        double to = minute(session.span().to());
        double before = QuickRun.of(stops, from, to).totalWait();
        Promised own = own(session.practitionerId());
        return starts.stream().map(start -> {
            Stop added = stop(start, own);
            List<Stop> with = new ArrayList<>(stops);
            int place = (int)
                    stops.stream().filter(stop -> stop.start() < added.start()).count();
            with.add(place, added);
            QuickRun run = QuickRun.of(with, from, to);
            double wait = run.waits()[place];
            return priced(
                    session, start, slot, wait, run.totalWait() - wait - before, run.lateEnd(), place == stops.size());
        });
    }

    private Found whole(Found found, List<Listed> day, Map<String, ListRun> before) {
        ClinicSession session = found.session();
        List<ListedVisit> visits =
                new ArrayList<>(inSession(session, day).map(this::visit).toList());
        ListRun without = before.computeIfAbsent(
                session.key(), key -> ListForecast.of(session, List.copyOf(visits), policy, null));
        Promised own = own(session.practitionerId());
        visits.add(visit(NEW, found.start(), found.slotMinutes(), own));
        ListRun with = ListForecast.of(session, visits, policy, null);
        double wait = with.of(NEW).map(ListRun.Expected::waitMinutes).orElse(0.0);
        double added = with.totalWait() - wait - without.totalWait();
        return priced(session, found.start(), found.slotMinutes(), wait, added, with.pastEnd(), found.last());
    }

    private Found priced(
            ClinicSession session,
            LocalTime start,
            int slot,
            double ownWait,
            double addedWait,
            double lateEnd,
            boolean last) {
        long days = ChronoUnit.DAYS.between(now.toLocalDate(), session.date());
        double late = LATE_END * Math.max(0, lateEnd - policy.acceptedOvertimeShare());
        double price = Math.max(0, addedWait) + ownWait + late + dayMinutes * days;
        return new Found(session, start, slot, ownWait, addedWait, lateEnd, last, price);
    }

    /** When a slot may begin on that day; null where it no longer may. */
    private @Nullable TimeSpan window(LocalDate date) {
        LocalTime from = wanted.partOfDay() == PartOfDay.AFTERNOON ? LocalTime.NOON : LocalTime.MIN;
        LocalTime to = wanted.partOfDay() == PartOfDay.MORNING ? LocalTime.NOON : LocalTime.of(23, 59);
        if (date.equals(now.toLocalDate()) && now.toLocalTime().isAfter(from)) {
            from = now.toLocalTime();
        }
        return from.isBefore(to) ? new TimeSpan(from, to) : null;
    }

    private int slotMinutes(UUID practitionerId) {
        Estimate estimate = wanted.estimates().get(practitionerId);
        return estimate != null ? estimate.slotMinutes() : moved().place().slotMinutes();
    }

    /** This visit by that practitioner, as it will be promised; read once, since each place is priced with it. */
    private Promised own(UUID practitionerId) {
        return own.computeIfAbsent(practitionerId, id -> {
            Estimate estimate = wanted.estimates().get(id);
            return estimate == null
                    ? ListedVisit.promised(moved().planned(), moved().place().slotMinutes(), policy)
                    : ListedVisit.promised(wanted.method(), estimate.promised(), estimate.slotMinutes(), policy);
        });
    }

    private Appointment moved() {
        if (wanted.moved() == null) {
            throw new IllegalStateException("neither an estimate nor an appointment says how long");
        }
        return wanted.moved();
    }

    private Listed listed(HeldPlace held) {
        LocalTime start = LocalDateTime.ofInstant(held.start(), zone).toLocalTime();
        // Many visits were promised the same: each promise is read once.
        Promised promised = held.estimate() == null || held.method() == null
                ? ListedVisit.promised(held.method(), held.estimate(), held.slotMinutes(), policy)
                : promises.computeIfAbsent(
                        held.method() + held.estimate(),
                        key -> ListedVisit.promised(held.method(), held.estimate(), held.slotMinutes(), policy));
        return new Listed(held, span(start, held.slotMinutes()), promised);
    }

    /** A place taken over from elsewhere might run past midnight; the day ends before it. */
    private static TimeSpan span(LocalTime start, int minutes) {
        LocalTime end = start.plusMinutes(minutes);
        return new TimeSpan(start, end.isAfter(start) ? end : LocalTime.MAX);
    }

    private static Stream<Listed> inSession(ClinicSession session, List<Listed> day) {
        return day.stream()
                .filter(listed -> listed.held().practitionerId().equals(session.practitionerId()))
                .filter(listed -> session.span().overlaps(listed.span()))
                .sorted(Comparator.comparing(listed -> listed.span().from()));
    }

    private static Stop stop(Listed listed) {
        return stop(listed.span().from(), listed.promised());
    }

    private static Stop stop(LocalTime start, Promised promised) {
        double sd = promised.inRoom().standardDeviation();
        return new Stop(minute(start), promised.inRoom().mean() + promised.turnaround(), sd * sd);
    }

    private ListedVisit visit(Listed listed) {
        return visit(listed.held().id(), listed.span().from(), listed.held().slotMinutes(), listed.promised());
    }

    private static ListedVisit visit(UUID id, LocalTime start, int slot, Promised promised) {
        return new ListedVisit(
                id,
                start,
                start,
                slot,
                promised.inRoom(),
                promised.turnaround(),
                promised.sharedSdLog(),
                "",
                true,
                new LocalClock(null, null, null, null));
    }

    private static double minute(LocalTime time) {
        return time.toSecondOfDay() / 60.0;
    }
}
