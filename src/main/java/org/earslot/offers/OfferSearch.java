package org.earslot.offers;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.ClockChange;
import org.earslot.booking.HeldPlace;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.day.AttendanceProbability;
import org.earslot.day.ListedVisit;
import org.earslot.day.ListedVisit.EstimatedLength;
import org.earslot.day.SessionProjector;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.plan.HowMany;
import org.earslot.flow.plan.OpenList;
import org.earslot.flow.plan.Price;
import org.earslot.flow.plan.Rollout;
import org.earslot.offers.OfferTerms.OwnVisit;
import org.jspecify.annotations.Nullable;

/**
 * Prices free places and keeps the cheapest: in a session to come by the whole list, its other free places filled as
 * usual, or at the end of what is booked; in one under way by how it runs now. Every place it gives is free and keeps to
 * the rules of a booking.
 */
final class OfferSearch {

    private final OfferTerms terms;
    private final Map<UUID, Set<Method>> methods;
    private final Map<UUID, OwnVisit> own;
    private final EquipmentConflicts units;
    private final SessionPlanCache sessionPlanCache;
    private final Map<Set<Method>, Mix> mixes = new HashMap<>();
    private final Map<String, EstimatedLength> estimates = new HashMap<>();

    /** A priced place. */
    record Found(
            ClinicSession session,
            LocalTime start,
            int slotMinutes,
            double ownWait,
            double addedWait,
            double lateEnd,
            boolean whenFull,
            double bookedLateEnd,
            boolean within,
            double price) {

        Offer offer(String practitioner, String room, boolean last) {
            return new Offer(
                    session,
                    practitioner,
                    room,
                    start,
                    slotMinutes,
                    ownWait,
                    Math.max(0, addedWait),
                    lateEnd,
                    whenFull,
                    bookedLateEnd,
                    within,
                    last);
        }
    }

    private static final Comparator<Found> BEST_FIRST = Comparator.comparing((Found each) -> !each.within())
            .thenComparingDouble(Found::price)
            .thenComparing(each -> each.session().key())
            .thenComparing(Found::start);

    /** One day's booked places by the clock; whoever is looked for left out. */
    record Booked(HeldPlace held, TimeSpan span) {}

    /**
     * @param methods that each practitioner holds
     * @param own the visit by each practitioner
     * @param units what the visit's method cannot do without
     */
    OfferSearch(
            OfferTerms terms,
            Map<UUID, Set<Method>> methods,
            Map<UUID, OwnVisit> own,
            EquipmentConflicts units,
            SessionPlanCache sessionPlanCache) {
        this.terms = terms;
        this.methods = methods;
        this.own = own;
        this.units = units;
        this.sessionPlanCache = sessionPlanCache;
    }

    /**
     * @param held everything booked on the days of the sessions
     * @param underWay today's lists of those sessions that have begun, as they are, by the session's key
     */
    List<Found> best(
            List<ClinicSession> sessions,
            List<HeldPlace> held,
            @Nullable UUID except,
            Map<String, List<ListedVisit>> underWay,
            int atMost) {
        Map<LocalDate, List<Booked>> byDay = new HashMap<>();
        held.stream()
                .filter(place -> !place.id().equals(except))
                .forEach(place -> byDay.computeIfAbsent(place.date(), day -> new ArrayList<>())
                        .add(booked(place)));
        List<ClinicSession> open = sessions.stream()
                .filter(session -> terms.window(session.date()) != null)
                .toList();
        List<Found> found = new ArrayList<>();
        List<Rollout.Open> lists = new ArrayList<>();
        Map<String, ClinicSession> named = new HashMap<>();
        for (ClinicSession session : open) {
            List<Booked> day = byDay.getOrDefault(session.date(), List.of());
            List<ListedVisit> now = underWay.get(session.key());
            if (now != null) {
                found.addAll(new RunningSessionOffers(terms, own(session), mix(session))
                        .offers(session, now, taken(session, day)));
            } else if (terms.wholeList()) {
                List<Rollout.Open> parts = open(session, day);
                parts.forEach(part -> named.put(part.name(), session));
                lists.addAll(parts);
            } else {
                found.addAll(new AppendOffers(terms, own(session), mix(session))
                        .offers(session, list(session, day), taken(session, day)));
            }
        }
        Rollout.offers(lists, atMost).forEach(offer -> {
            ClinicSession session = named.get(offer.open());
            found.add(found(session, offer, elsewhere(session, byDay.getOrDefault(session.date(), List.of()))));
        });
        return found.stream()
                .filter(each -> isFree(each, byDay.getOrDefault(each.session().date(), List.of())))
                .sorted(BEST_FIRST)
                .limit(atMost)
                .toList();
    }

    /**
     * Chance that the session ends late with those booked, the visit at that place and nobody else.
     *
     * @param held everything booked on the session's day
     * @param underWay the session's list as it is, if it has begun; null if it is to come
     */
    double lateEnd(
            ClinicSession session,
            List<HeldPlace> held,
            @Nullable UUID except,
            @Nullable List<ListedVisit> underWay,
            AskedPlace at) {
        LocalTime start = at.start().toLocalTime();
        if (underWay != null) {
            return new RunningSessionOffers(terms, own(session), mix(session))
                    .lateEnd(session, underWay, start, at.slotMinutes());
        }
        List<Booked> day = held.stream()
                .filter(place -> !place.id().equals(except))
                .map(this::booked)
                .toList();
        DayList booked = list(session, day);
        Place visit = terms.place(own(session)).movedTo(start, at.slotMinutes());
        return Price.of(AppendOffers.with(booked, visit), terms.costs()).pastEnd();
    }

    private Found found(ClinicSession session, Rollout.Offer offer, List<TimeSpan> elsewhere) {
        int grid = terms.policy().gridMinutes();
        int slot = EquipmentConflicts.before(elsewhere, offer.start(), (int) Math.round(offer.slotMinutes()));
        OwnVisit visit = own(session);
        return new Found(
                session,
                offer.start(),
                slot == visit.most() ? slot : Math.max(visit.least(), slot / grid * grid),
                offer.ownWaitMinutes(),
                offer.addedWaitMinutes(),
                offer.pastEnd(),
                true,
                offer.bookedPastEnd(),
                offer.within(),
                offer.addedCost());
    }

    /** The session's list, asked about in each stretch of it for which the visit finds its unit. */
    private List<Rollout.Open> open(ClinicSession session, List<Booked> day) {
        List<HeldPlace> listed = inSession(session, day).map(Booked::held).toList();
        SessionPlanCache.Content content = new SessionPlanCache.Content(
                session,
                listed,
                roomTaken(session, day),
                terms.policy(),
                terms.costs(),
                terms.habits().version(),
                methods(session),
                terms.zone(),
                shared(session, day));
        OpenList list = sessionPlanCache.of(content, () -> made(session, day));
        OwnVisit visit = own(session);
        TimeSpan window = terms.window(session.date());
        int least = Math.max(visit.least(), terms.policy().gridMinutes());
        List<TimeSpan> hours = EquipmentConflicts.starts(window, elsewhere(session, day), least);
        return IntStream.range(0, hours.size())
                .mapToObj(i -> new Rollout.Open(
                        session.key() + " " + i,
                        list,
                        terms.place(visit),
                        least,
                        Math.max(least, visit.most()),
                        hours.get(i).from(),
                        hours.get(i).to().minusNanos(1),
                        terms.daysCost(session.date()),
                        terms.limits()))
                .toList();
    }

    private OpenList made(ClinicSession session, List<Booked> day) {
        DayList list = list(session, day);
        // Where the accepted overtime is used up, what is free is still free: its price says what it costs.
        int more = Math.max(1, HowMany.more(list, mix(session), terms.policy().acceptedOvertimeShare()));
        return OpenList.of(
                list, mix(session), more, terms.costs(), terms.policy().gridMinutes());
    }

    /** What is booked, as a plan whose starts lie on the clinic's grid; the room's other bookings take no time in it. */
    private DayList list(ClinicSession session, List<Booked> day) {
        List<ListedVisit> visits =
                SessionProjector.coming(inSession(session, day).map(this::visit).toList());
        DayList list = SessionProjector.list(session, visits, terms.policy(), null);
        return SessionPlan.of(list, roomTaken(session, day), terms.policy().gridMinutes())
                .withCommonSd(shared(session, day));
    }

    private boolean isFree(Found found, List<Booked> day) {
        LocalDateTime start = found.session().date().atTime(found.start());
        LocalDateTime end = start.plusMinutes(found.slotMinutes());
        if (start.isBefore(terms.now())
                || !end.toLocalDate().equals(start.toLocalDate())
                || crossesClockChange(start, end)) {
            return false;
        }
        TimeSpan span = new TimeSpan(found.start(), end.toLocalTime());
        boolean onGrid = found.start().getSecond() == 0
                && found.start().getMinute() % terms.policy().gridMinutes() == 0;
        return onGrid
                && found.session().holds(span)
                && taken(found.session(), day).stream().noneMatch(span::overlaps);
    }

    private boolean crossesClockChange(LocalDateTime start, LocalDateTime end) {
        var from = start.atZone(terms.zone());
        var to = from.plusMinutes(java.time.Duration.between(start, end).toMinutes());
        return !from.toLocalDateTime().equals(start) || !to.toLocalDateTime().equals(end);
    }

    private OwnVisit own(ClinicSession session) {
        return own.get(session.practitionerId());
    }

    private Set<Method> methods(ClinicSession session) {
        return methods.getOrDefault(session.practitionerId(), EnumSet.allOf(Method.class));
    }

    private Mix mix(ClinicSession session) {
        return mixes.computeIfAbsent(methods(session), terms::mix);
    }

    /** To a hundredth: what the visits of the session share, as those booked estimated; of an empty one, the visit looked for. */
    private double shared(ClinicSession session, List<Booked> day) {
        double shared = Math.sqrt(inSession(session, day)
                .mapToDouble(each -> estimated(each.held()).sharedSdLog())
                .map(each -> each * each)
                .average()
                .orElseGet(() -> Math.pow(own(session).estimated().sharedSdLog(), 2)));
        return Math.min(1, Math.round(100 * shared) / 100.0);
    }

    private Booked booked(HeldPlace place) {
        return new Booked(place, place.span(terms.zone()));
    }

    private static Stream<Booked> inSession(ClinicSession session, List<Booked> day) {
        return day.stream()
                .filter(each -> each.held().practitionerId().equals(session.practitionerId()))
                .filter(each -> session.span().overlaps(each.span()))
                .sorted(Comparator.comparing((Booked each) -> each.span().from())
                        .thenComparing(each -> each.held().id()));
    }

    /** Where somebody else has the room, or the clocks change. */
    private List<TimeSpan> roomTaken(ClinicSession session, List<Booked> day) {
        Stream<TimeSpan> others = day.stream()
                .filter(each -> !each.held().fitIn())
                .filter(each -> each.held().roomId().equals(session.roomId())
                        && !each.held().practitionerId().equals(session.practitionerId()))
                .map(Booked::span)
                .filter(session.span()::overlaps);
        return Stream.concat(others, ClockChange.in(session, terms.zone()).stream())
                .sorted(Comparator.comparing(TimeSpan::from))
                .toList();
    }

    private List<TimeSpan> taken(ClinicSession session, List<Booked> day) {
        Stream<TimeSpan> booked = day.stream()
                .filter(each -> !each.held().fitIn())
                .filter(each -> each.held().practitionerId().equals(session.practitionerId())
                        || each.held().roomId().equals(session.roomId()))
                .map(Booked::span);
        return Stream.of(booked, ClockChange.in(session, terms.zone()).stream(), elsewhere(session, day).stream())
                .flatMap(each -> each)
                .toList();
    }

    private List<TimeSpan> elsewhere(ClinicSession session, List<Booked> day) {
        return units.during(session, day.stream().map(Booked::held).toList(), terms.zone());
    }

    private ListedVisit visit(Booked booked) {
        HeldPlace held = booked.held();
        EstimatedLength estimated = estimated(held);
        LocalTime start = booked.span().from();
        Answer first = held.firstVisit() == null ? Answer.NOT_KNOWN : held.firstVisit();
        return new ListedVisit(
                held.id(),
                held.fitIn() ? null : start,
                start,
                held.slotMinutes(),
                estimated.inRoom(),
                estimated.turnaround(),
                estimated.sharedSdLog(),
                "",
                true,
                new LocalClock(null, null, null, null),
                new AttendanceProbability(terms.habits().coming().absent(first), terms.arrivals()));
    }

    /** Many visits were estimated the same: each estimate is read once. */
    private EstimatedLength estimated(HeldPlace held) {
        if (held.estimate() == null || held.method() == null) {
            return ListedVisit.estimated(held.method(), held.estimate(), held.slotMinutes(), terms.policy());
        }
        return estimates.computeIfAbsent(
                held.method() + held.estimate(),
                key -> ListedVisit.estimated(held.method(), held.estimate(), held.slotMinutes(), terms.policy()));
    }
}
