package org.earslot.offers;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.Planning;
import org.earslot.booking.PortableEquipment;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.day.DayLists;
import org.earslot.day.DaySchedules;
import org.earslot.day.ListedVisit;
import org.earslot.day.SessionProjector;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.Price;
import org.earslot.flow.plan.StartTimes;
import org.earslot.flow.run.Projection;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.offers.SlotsFound.Offers;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Ways to improve a list. A person looks at each before making it; all follow the rules of a booking. */
@Service
public class RescheduleProposals {

    /** A change that improves the cost of the list by less is not worth making. */
    private static final double WORTH_WHILE = 0.5;

    private static final double WORTH_A_LATE_END = 0.03;
    private static final double SAME_CHANCE = 0.005;

    private final DayLists lists;
    private final PlaceRules rules;
    private final PortableEquipment units;
    private final Slots slots;
    private final Planning planning;

    RescheduleProposals(DayLists lists, PlaceRules rules, PortableEquipment units, Slots slots, Planning planning) {
        this.lists = lists;
        this.rules = rules;
        this.units = units;
        this.slots = slots;
        this.planning = planning;
    }

    /** One session's list, ready to be tried with other starts. */
    private record Tried(
            ClinicId clinicId,
            ClinicSession session,
            DayLists.Day day,
            List<Appointment> listed,
            List<ListedVisit> visits,
            Set<UUID> leftOut) {

        /** Who may be put elsewhere: to come, with a slot whose start is not over, and not left out. */
        boolean movable(int i) {
            return couldMove(i) && !leftOut.contains(listed.get(i).id());
        }

        private boolean couldMove(int i) {
            Appointment each = listed.get(i);
            boolean over = !session.date().atTime(visits.get(i).from()).isAfter(day.now());
            return each.status().toCome() && !each.fitIn() && !over;
        }

        boolean confirmed(int i) {
            return listed.get(i).confirmed();
        }

        int start(int i) {
            return minute(visits.get(i).from());
        }

        int slot(int i) {
            return visits.get(i).slotMinutes();
        }

        Move shift(int i, int start, int slot) {
            Appointment each = listed.get(i);
            LocalDateTime at = session.date().atTime(LocalTime.ofSecondOfDay(start * 60L));
            BookedPlace place = each.place();
            return new Move(
                    each.id(), each.version(), new AskedPlace(place.practitionerId(), place.roomId(), at, slot), false);
        }

        FreeInterval stretch() {
            TimeSpan span = session.span();
            int pauseFrom = session.pause().map(rest -> minute(rest.from())).orElse(0);
            int pauseTo = session.pause().map(rest -> minute(rest.to())).orElse(0);
            boolean today = session.date().equals(day.now().toLocalDate());
            int from = today ? Math.max(minute(span.from()), minute(day.now().toLocalTime()) + 1) : minute(span.from());
            return new FreeInterval(
                    from, minute(span.to()), pauseFrom, pauseTo, day.policy().gridMinutes());
        }

        Price price(Costs costs, List<ListedVisit> changed) {
            List<ListedVisit> coming = SessionProjector.coming(changed);
            LocalTime now = DaySchedules.timeOfTheDay(session, coming, day.now());
            return coming.isEmpty()
                    ? new Price(0, 0, 0, 0, 0)
                    : Price.of(Projection.of(SessionProjector.list(session, coming, day.policy(), now)), costs);
        }

        List<ListedVisit> with(List<Move> shifts) {
            return visits.stream()
                    .map(visit -> shifts.stream()
                            .filter(shift -> shift.appointmentId().equals(visit.id()))
                            .findFirst()
                            .map(shift -> visit.at(
                                    shift.place().start().toLocalTime(),
                                    shift.place().slotMinutes()))
                            .orElse(visit))
                    .toList();
        }
    }

    /** Other starts, set together, for those who have not confirmed theirs; empty if that improves nothing. */
    @Transactional(readOnly = true)
    public List<Move> retime(ClinicId clinicId, LocalDate date, String sessionKey) {
        return tried(clinicId, date, sessionKey)
                .filter(tried ->
                        tried.listed().stream().allMatch(each -> each.status().toCome()))
                .flatMap(this::retimed)
                .orElse(List.of());
    }

    private Optional<List<Move>> retimed(Tried tried) {
        Set<String> kept = new HashSet<>();
        IntStream.range(0, tried.listed().size())
                .filter(i -> !tried.movable(i) || tried.confirmed(i))
                .forEach(i -> kept.add(tried.listed().get(i).id().toString()));
        if (kept.size() == tried.listed().size()) {
            return Optional.empty();
        }
        Costs costs = rules.costs(tried.clinicId());
        // Where the clinic's costs would buy shorter waits with a later end, overtime is made to weigh more.
        return Stream.of(1, 4, 16, 64)
                .map(times ->
                        new Costs(costs.waitMinute(), costs.idleMinute(), Math.max(1, costs.overtimeMinute()) * times))
                .flatMap(tilted -> retimed(tried, kept, tilted).stream())
                .filter(shifts -> improves(tried, shifts, costs))
                .filter(shifts -> keepTheRules(tried, shifts))
                .findFirst();
    }

    private static Optional<List<Move>> retimed(Tried tried, Set<String> kept, Costs costs) {
        DayList list = SessionProjector.list(
                tried.session(), tried.visits(), tried.day().policy(), null);
        int grid = tried.day().policy().gridMinutes();
        List<Place> found = StartTimes.of(list, costs, new StartTimes.Rules(grid, kept, false))
                .list()
                .places();
        return tried.stretch()
                .fitted(wanted(tried, found, kept))
                .map(places -> IntStream.range(0, places.size())
                        .filter(i -> places.get(i).start() != tried.start(i)
                                || places.get(i).slot() != tried.slot(i))
                        .mapToObj(i -> tried.shift(
                                i, places.get(i).start(), places.get(i).slot()))
                        .toList());
    }

    /** A length nobody estimated tells how long the visit takes, so it is not cut. */
    private static List<FreeInterval.Wanted> wanted(Tried tried, List<Place> found, Set<String> kept) {
        int least = tried.day().policy().leastSlotMinutes();
        List<FreeInterval.Wanted> wanted = new ArrayList<>();
        for (int i = 0; i < found.size(); i++) {
            LocalTime start = found.get(i).booked();
            boolean estimated = tried.listed().get(i).planned().estimate() != null;
            wanted.add(new FreeInterval.Wanted(
                    start == null ? tried.start(i) : minute(start),
                    tried.slot(i),
                    estimated ? Math.min(least, tried.slot(i)) : tried.slot(i),
                    kept.contains(found.get(i).name())));
        }
        return wanted;
    }

    /**
     * The two visits that change places to the best effect, of those not confirmed if any such two do; empty where
     * that improves nothing.
     */
    @Transactional(readOnly = true)
    public List<Move> swap(ClinicId clinicId, LocalDate date, String sessionKey) {
        Optional<Tried> found = tried(clinicId, date, sessionKey);
        if (found.isEmpty()) {
            return List.of();
        }
        Tried tried = found.get();
        Costs costs = rules.costs(clinicId);
        List<List<Move>> swaps = new ArrayList<>();
        for (int i = 0; i < tried.listed().size(); i++) {
            for (int j = i + 1; j < tried.listed().size(); j++) {
                swapped(tried, i, j).ifPresent(swaps::add);
            }
        }
        Set<UUID> confirmed = new HashSet<>();
        tried.listed().stream().filter(Appointment::confirmed).forEach(each -> confirmed.add(each.id()));
        return Stream.of(false, true)
                .flatMap(ask -> swaps.stream()
                        .filter(swap ->
                                ask == swap.stream().anyMatch(shift -> confirmed.contains(shift.appointmentId())))
                        .filter(swap -> improves(tried, swap, costs))
                        .filter(swap -> keepTheRules(tried, swap))
                        .min(Comparator.comparingDouble(
                                swap -> tried.price(costs, tried.with(swap)).total()))
                        .stream())
                .findFirst()
                .orElse(List.of());
    }

    /** Neighbours keep the stretch the two have together; others take each other's start if their slots fit. */
    private static Optional<List<Move>> swapped(Tried tried, int i, int j) {
        boolean neighbours = j == i + 1;
        if (!tried.movable(i) || !tried.movable(j)) {
            return Optional.empty();
        }
        FreeInterval stretch = tried.stretch();
        int laterStart = neighbours ? tried.start(j) + tried.slot(j) - tried.slot(i) : tried.start(j);
        boolean inBreak = laterStart < stretch.pauseTo() && laterStart + tried.slot(i) > stretch.pauseFrom();
        boolean earlierInBreak =
                tried.start(i) < stretch.pauseTo() && tried.start(i) + tried.slot(j) > stretch.pauseFrom();
        boolean fits = neighbours || (tried.slot(j) <= room(tried, i) && tried.slot(i) <= room(tried, j));
        return fits && !inBreak && !earlierInBreak
                ? Optional.of(List.of(
                        tried.shift(i, laterStart, tried.slot(i)), tried.shift(j, tried.start(i), tried.slot(j))))
                : Optional.empty();
    }

    /** Minutes from the start of visit i to the next one with a slot, or the session's end. */
    private static int room(Tried tried, int i) {
        return IntStream.range(i + 1, tried.listed().size())
                        .filter(k -> !tried.listed().get(k).fitIn())
                        .map(tried::start)
                        .findFirst()
                        .orElse(tried.stretch().to())
                - tried.start(i);
    }

    /** Who may be moved out of the session, the one first without whom it runs best; the confirmed last. */
    @Transactional(readOnly = true)
    public List<UUID> toMove(ClinicId clinicId, LocalDate date, String sessionKey) {
        Costs costs = rules.costs(clinicId);
        return tried(clinicId, date, sessionKey).stream()
                .flatMap(tried -> IntStream.range(0, tried.listed().size())
                        .filter(tried::movable)
                        .boxed()
                        .sorted(Comparator.comparing(tried::confirmed)
                                .thenComparingDouble(i ->
                                        tried.price(costs, without(tried, i)).total()))
                        .map(i -> tried.listed().get(i).id()))
                .toList();
    }

    private static List<ListedVisit> without(Tried tried, int i) {
        List<ListedVisit> left = new ArrayList<>(tried.visits());
        left.remove(i);
        return left;
    }

    /**
     * What the fixes of a session would do for the session as a whole, each by its best proposal; one that makes neither
     * the late end less likely nor the waits shorter is left out. Of a visit that is moved away only what it leaves behind
     * counts.
     */
    @Transactional(readOnly = true)
    public List<FixEffect> effects(ClinicId clinicId, LocalDate date, String sessionKey) {
        Optional<Tried> found = tried(clinicId, date, sessionKey);
        if (found.isEmpty()) {
            return List.of();
        }
        Tried tried = found.get();
        Costs costs = rules.costs(clinicId);
        Price before = tried.price(costs, tried.visits());
        Map<DayFix, List<ListedVisit>> then = new EnumMap<>(DayFix.class);
        then.put(DayFix.RETIME, tried.with(retime(clinicId, date, sessionKey)));
        then.put(DayFix.SWAP, tried.with(swap(clinicId, date, sessionKey)));
        toMove(clinicId, date, sessionKey).stream()
                .findFirst()
                .ifPresent(gone -> then.put(
                        DayFix.MOVE,
                        tried.visits().stream()
                                .filter(visit -> !visit.id().equals(gone))
                                .toList()));
        return then.entrySet().stream()
                .map(each -> new FixEffect(each.getKey(), before, tried.price(costs, each.getValue())))
                .filter(FixEffect::helps)
                .toList();
    }

    /**
     * Who of the session is never proposed to be moved, because of an open red flag or because the patient is recorded as
     * deceased: a person looks at each and decides.
     */
    @Transactional(readOnly = true)
    public List<UUID> leftOut(ClinicId clinicId, LocalDate date, String sessionKey) {
        return tried(clinicId, date, sessionKey).stream()
                .flatMap(tried -> IntStream.range(0, tried.listed().size())
                        .filter(tried::couldMove)
                        .mapToObj(i -> tried.listed().get(i).id())
                        .filter(tried.leftOut()::contains))
                .toList();
    }

    /** Whether that appointment is left out so. */
    @Transactional(readOnly = true)
    public boolean leftOut(Appointment appointment) {
        return appointment.status().toCome()
                && planning.notMovedWithOthers(appointment).isPresent();
    }

    /** The best free places within the accepted share of late ends that the appointment could be moved to, best first; its own session's come last. */
    @Transactional(readOnly = true)
    public List<Move> offers(ClinicId clinicId, Appointment appointment, int atMost) {
        if (leftOut(appointment)) {
            return List.of();
        }
        SlotWish wish = new SlotWish(null, appointment.id(), null, null, null, PartOfDay.ANY, Slots.MOST_OFFERS);
        if (!(slots.search(clinicId, wish) instanceof Offers found)) {
            return List.of();
        }
        BookedPlace now = appointment.place();
        return found.within().stream()
                .sorted(Comparator.comparing(offer -> offer.session().date().equals(now.date())
                        && offer.session().practitionerId().equals(now.practitionerId())))
                .limit(atMost)
                .map(offer -> new Move(appointment.id(), appointment.version(), offer.place(), false))
                .toList();
    }

    private Optional<Tried> tried(ClinicId clinicId, LocalDate date, String sessionKey) {
        return slots.session(clinicId, sessionKey, date).map(session -> {
            DayLists.Day day = lists.of(clinicId, date, session.practitionerId());
            List<ListedVisit> visits = day.held().stream()
                    .filter(session::equals)
                    .flatMap(held -> day.in(held).stream())
                    .toList();
            List<Appointment> listed = day.appointments().stream()
                    .filter(each -> visits.stream().anyMatch(visit -> visit.id().equals(each.id())))
                    .toList();
            Set<UUID> leftOut =
                    listed.stream().filter(this::leftOut).map(Appointment::id).collect(Collectors.toSet());
            return new Tried(clinicId, session, day, listed, visits, leftOut);
        });
    }

    /** Costs less or ends late less often, and never ends late more often if that is more than accepted. */
    private static boolean improves(Tried tried, List<Move> shifts, Costs costs) {
        Price before = tried.price(costs, tried.visits());
        Price then = tried.price(costs, tried.with(shifts));
        double accepted = tried.day().policy().acceptedOvertimeShare();
        boolean endsLater = then.pastEnd() > Math.max(before.pastEnd(), accepted) + SAME_CHANCE;
        return !endsLater
                && (then.total() < before.total() - WORTH_WHILE
                        || before.pastEnd() > accepted && then.pastEnd() < before.pastEnd() - WORTH_A_LATE_END);
    }

    private boolean keepTheRules(Tried tried, List<Move> shifts) {
        return shifts.stream()
                .allMatch(shift -> tried.listed().stream()
                        .filter(each -> each.id().equals(shift.appointmentId()))
                        .allMatch(each -> keepsTheRules(each, shift.place())));
    }

    private boolean keepsTheRules(Appointment each, AskedPlace place) {
        ClinicId clinicId = each.clinicId();
        return rules.broken(
                                clinicId,
                                place,
                                each.planned().method(),
                                each.patientId().orElse(null))
                        .isEmpty()
                && units.taken(each, rules.onTheClock(clinicId, place)).isEmpty();
    }

    private static int minute(LocalTime time) {
        return time.getHour() * 60 + time.getMinute();
    }
}
