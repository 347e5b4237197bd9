package org.earslot.offers;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.LocalClock;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.PlannedVisit;
import org.earslot.booking.Planning;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.day.DayLists;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedules;
import org.earslot.day.ListedVisit;
import org.earslot.day.ListedVisit.EstimatedLength;
import org.earslot.day.ListedVisits;
import org.earslot.day.SessionProjection;
import org.earslot.day.SessionProjection.Expected;
import org.earslot.offers.MoveEffect.OfList;
import org.earslot.offers.MoveEffect.OfVisit;
import org.earslot.offers.MoveEffect.Stand;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Works out what a change of a day would do, before anybody makes it. */
@Service
public class MoveEffects {

    private final DayLists lists;
    private final DaySchedules diaries;
    private final Appointments appointments;
    private final Practitioners practitioners;
    private final Planning planning;
    private final PlaceRules rules;
    private final ListedVisits listedVisits;
    private final ClinicClock clock;

    MoveEffects(
            DayLists lists,
            DaySchedules diaries,
            Appointments appointments,
            Practitioners practitioners,
            Planning planning,
            PlaceRules rules,
            ListedVisits listedVisits,
            ClinicClock clock) {
        this.lists = lists;
        this.diaries = diaries;
        this.appointments = appointments;
        this.practitioners = practitioners;
        this.planning = planning;
        this.rules = rules;
        this.listedVisits = listedVisits;
        this.clock = clock;
    }

    /** A practitioner's day. */
    private record Whose(LocalDate date, UUID practitionerId) {}

    /** What {@code shifts} would do; appointments that are not there are left out. */
    @Transactional(readOnly = true)
    public MoveEffect of(ClinicId clinicId, List<Move> shifts) {
        Map<UUID, Move> byId = shifts.stream().collect(Collectors.toMap(Move::appointmentId, Function.identity()));
        List<Appointment> moved = byId.keySet().stream()
                .flatMap(id -> appointments.findByClinicIdAndId(clinicId, id).stream())
                .toList();
        Set<Whose> touched = new LinkedHashSet<>();
        moved.forEach(each -> {
            AskedPlace to = byId.get(each.id()).place();
            touched.add(new Whose(each.place().date(), each.place().practitionerId()));
            touched.add(new Whose(to.date(), to.practitionerId()));
        });
        Before before = new Before(clinicId, touched.stream().map(Whose::date).collect(Collectors.toSet()));
        List<OfList> changed = touched.stream()
                .flatMap(whose -> changed(before, whose, moved, byId).stream())
                .sorted(Comparator.comparing((OfList each) -> each.session().date())
                        .thenComparing(each -> each.session().span().from()))
                .toList();
        return new MoveEffect(changed, visits(before, changed, byId));
    }

    private record Dated(LocalDate date, Line line) {}

    /** The days as they are. */
    private final class Before {

        private final ClinicId clinicId;
        private final PolicyTerms policy;
        private final List<Dated> lines;
        private final Map<UUID, String> names;

        Before(ClinicId clinicId, Collection<LocalDate> days) {
            this.clinicId = clinicId;
            this.policy = rules.policy(clinicId);
            this.lines = new TreeSet<>(days)
                    .stream()
                            .flatMap(day -> diaries.of(clinicId, day).lines().map(line -> new Dated(day, line)))
                            .filter(dated -> dated.line().comes())
                            .toList();
            this.names = practitioners.findByClinicIdOrderByName(clinicId).stream()
                    .collect(Collectors.toMap(Practitioner::id, Practitioner::name));
        }

        String name(UUID practitionerId) {
            return names.getOrDefault(practitionerId, "–");
        }
    }

    private List<OfList> changed(Before before, Whose whose, List<Appointment> moved, Map<UUID, Move> byId) {
        DayLists.Day day = lists.of(before.clinicId, whose.date(), whose.practitionerId());
        List<ListedVisit> then = new ArrayList<>(day.visits().stream()
                .filter(visit -> !byId.containsKey(visit.id()))
                .toList());
        moved.stream()
                .filter(each -> arrives(byId.get(each.id()).place(), whose))
                .map(each -> arriving(before, each, byId.get(each.id()).place()))
                .forEach(then::add);
        List<OfList> changed = new ArrayList<>();
        for (ClinicSession session : day.held()) {
            List<ListedVisit> was = day.in(session);
            List<ListedVisit> is = then.stream()
                    .filter(visit -> DaySchedules.sessionOf(visit, day.held()) == session)
                    .toList();
            if (Stream.concat(was.stream(), is.stream()).anyMatch(visit -> byId.containsKey(visit.id()))) {
                changed.add(new OfList(
                        session, before.name(whose.practitionerId()), day.run(session, was), day.run(session, is)));
            }
        }
        return changed;
    }

    private static boolean arrives(AskedPlace place, Whose whose) {
        return place.date().equals(whose.date()) && place.practitionerId().equals(whose.practitionerId());
    }

    private ListedVisit arriving(Before before, Appointment appointment, AskedPlace place) {
        PlannedVisit planned = planning.doneBy(appointment, place.practitionerId());
        EstimatedLength estimated = ListedVisit.estimated(planned, place.slotMinutes(), before.policy);
        return new ListedVisit(
                appointment.id(),
                place.start().toLocalTime(),
                place.start().toLocalTime(),
                place.slotMinutes(),
                estimated.inRoom(),
                estimated.turnaround(),
                estimated.sharedSdLog(),
                place.roomId().toString(),
                true,
                LocalClock.of(appointment.times(), clock.zone(before.clinicId)),
                listedVisits.likely(appointment));
    }

    private List<OfVisit> visits(Before before, List<OfList> changed, Map<UUID, Move> byId) {
        return before.lines.stream()
                .flatMap(dated ->
                        visit(before, dated, changed, byId.get(dated.line().id())).stream())
                .sorted(Comparator.comparing((OfVisit visit) -> visit.then().start())
                        .thenComparing(OfVisit::appointmentId))
                .toList();
    }

    private static Optional<OfVisit> visit(Before before, Dated dated, List<OfList> changed, @Nullable Move shift) {
        Line line = dated.line();
        Optional<Expected> then = expected(changed.stream().map(OfList::then).toList(), line.id());
        Optional<Expected> was = expected(changed.stream().map(OfList::before).toList(), line.id());
        if (then.isEmpty() && was.isEmpty() && shift == null) {
            return Optional.empty();
        }
        Stand stands =
                new Stand(before.name(line.practitionerId()), dated.date().atTime(line.start()), line.slotMinutes());
        Stand moves = shift == null
                ? stands
                : new Stand(
                        before.name(shift.place().practitionerId()),
                        shift.place().start(),
                        shift.place().slotMinutes());
        return Optional.of(new OfVisit(
                line.id(),
                line.version(),
                line.who(),
                line.what(),
                !stands.equals(moves),
                line.confirmed(),
                stands,
                moves,
                was.map(Expected::waitMinutes).orElse(0.0),
                then.map(Expected::waitMinutes).orElse(0.0)));
    }

    private static Optional<Expected> expected(List<SessionProjection> runs, UUID appointmentId) {
        return runs.stream().flatMap(run -> run.of(appointmentId).stream()).findFirst();
    }
}
