package org.earslot.review;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicSession;
import org.earslot.ear.Attendance;
import org.earslot.ear.Word;
import org.earslot.estimate.Promise;
import org.earslot.flow.RealisedVisit;
import org.earslot.flow.Session;
import org.earslot.flow.WaitSources;
import org.earslot.flow.WaitSources.Cause;
import org.earslot.review.Waits.CauseLine;
import org.earslot.review.Waits.CostlyVisit;
import org.earslot.review.Waits.Shared;
import org.jspecify.annotations.Nullable;

/** Shares the waits of past lists out to their sources, list by list, and adds them up. */
final class WaitShares {

    private static final int SHOWN = 10;

    private final ZoneId zone;
    private final Map<Cause, Double> minutes = new EnumMap<>(Cause.class);
    private final Map<Cause, Set<String>> waited = new EnumMap<>(Cause.class);
    private final Map<UUID, Double> byVisit = new HashMap<>();
    private final Map<UUID, Set<String>> patients = new HashMap<>();
    private double whole;
    private int leftOut;

    private WaitShares(ZoneId zone) {
        this.zone = zone;
    }

    /** @param held the sessions of the days of {@code visits}; a visit in none belongs to the rest of its day's list */
    static Shared of(List<MeasuredVisit> visits, List<ClinicSession> held, ZoneId zone) {
        WaitShares shares = new WaitShares(zone);
        Map<ListKey, List<MeasuredVisit>> lists = new TreeMap<>();
        Map<ListKey, ClinicSession> sessions = new HashMap<>();
        for (MeasuredVisit visit : visits) {
            Optional<ClinicSession> session = held.stream()
                    .filter(each -> each.practitionerId().equals(visit.practitionerId())
                            && each.date().equals(visit.date())
                            && shares.begins(visit, each))
                    .findFirst();
            ListKey key = new ListKey(
                    visit.date(),
                    visit.practitionerId(),
                    session.map(each -> each.span().from()).orElse(LocalTime.MIN));
            session.ifPresent(each -> sessions.put(key, each));
            lists.computeIfAbsent(key, each -> new ArrayList<>()).add(visit);
        }
        lists.forEach((key, list) -> shares.add(list, sessions.get(key)));
        return new Shared(shares.waits(visits), shares.byVisit);
    }

    /** One practitioner's list of one session. */
    private record ListKey(LocalDate date, UUID practitionerId, LocalTime from) implements Comparable<ListKey> {
        @Override
        public int compareTo(ListKey other) {
            return Comparator.comparing(ListKey::date)
                    .thenComparing(ListKey::practitionerId)
                    .thenComparing(ListKey::from)
                    .compare(this, other);
        }
    }

    private boolean begins(MeasuredVisit visit, ClinicSession session) {
        LocalTime start = time(visit.bookedStart() == null ? visit.calledIn() : visit.bookedStart());
        return start != null
                && !start.isBefore(session.span().from())
                && start.isBefore(session.span().to());
    }

    private void add(List<MeasuredVisit> list, @Nullable ClinicSession session) {
        List<RealisedVisit> realised = new ArrayList<>();
        Map<String, UUID> ids = new HashMap<>();
        for (MeasuredVisit visit : list) {
            Optional<RealisedVisit> one = realised(visit);
            one.ifPresent(realised::add);
            ids.put(visit.id().toString(), visit.id());
        }
        if (realised.stream().noneMatch(visit -> visit.calledIn() != null)) {
            return;
        }
        if (list.stream().anyMatch(this::outOfOrderOnTheClock)) {
            leftOut++;
            return;
        }
        WaitSources sources = WaitSources.of(hours(realised, session), realised);
        for (WaitSources.Wait wait : sources.waits()) {
            whole += wait.minutes().doubleValue();
            for (WaitSources.Share share : wait.shares()) {
                double shared = share.minutes().doubleValue();
                Cause cause = share.source().cause();
                minutes.merge(cause, shared, Double::sum);
                waited.computeIfAbsent(cause, each -> new HashSet<>()).add(wait.name());
                UUID source = ids.get(share.source().visit());
                if (source != null && (cause == Cause.VISIT || cause == Cause.FIT_IN)) {
                    byVisit.merge(source, shared, Double::sum);
                    patients.computeIfAbsent(source, each -> new HashSet<>()).add(wait.name());
                }
            }
        }
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

    /** Past midnight, or where the clocks go back, a later time stands earlier on the clock. */
    private boolean outOfOrderOnTheClock(MeasuredVisit visit) {
        if (!visit.timed()) {
            return false;
        }
        var offset = zone.getRules().getOffset(Objects.requireNonNull(visit.ready()));
        return Objects.requireNonNull(time(visit.ready())).isBefore(Objects.requireNonNull(time(visit.calledIn())))
                || !offset.equals(zone.getRules().getOffset(Objects.requireNonNull(visit.calledIn())));
    }

    /** The session's hours; where none is known, from the first to the last that is known of the list. */
    private static Session hours(List<RealisedVisit> realised, @Nullable ClinicSession session) {
        if (session != null) {
            return Session.between(session.span().from(), session.span().to());
        }
        LocalTime from = realised.stream()
                .flatMap(visit -> Stream.of(visit.booked(), visit.calledIn()))
                .filter(Objects::nonNull)
                .min(Comparator.naturalOrder())
                .orElseThrow();
        LocalTime to = realised.stream()
                .map(RealisedVisit::roomReady)
                .filter(Objects::nonNull)
                .max(Comparator.naturalOrder())
                .orElseThrow();
        return Session.between(from, to.isAfter(from) ? to : LocalTime.MAX);
    }

    private Waits waits(List<MeasuredVisit> visits) {
        List<CauseLine> causes = minutes.entrySet().stream()
                .map(entry -> new CauseLine(
                        entry.getKey().name().toLowerCase(Locale.ROOT),
                        entry.getValue(),
                        waited.get(entry.getKey()).size()))
                .sorted(Comparator.comparingDouble(CauseLine::minutes).reversed())
                .toList();
        List<CostlyVisit> costliest = visits.stream()
                .filter(visit -> byVisit.getOrDefault(visit.id(), 0.0) > 0)
                .sorted(Comparator.<MeasuredVisit>comparingDouble(visit -> -byVisit.get(visit.id()))
                        .thenComparing(MeasuredVisit::visitRef))
                .limit(SHOWN)
                .map(this::costly)
                .toList();
        return new Waits(whole, causes, costliest, leftOut);
    }

    private CostlyVisit costly(MeasuredVisit visit) {
        Double fourInFive = visit.promised() == null
                ? null
                : Promise.read(visit.promised()).inRoomMinutes().quantile(0.8);
        return new CostlyVisit(
                visit.visitRef(),
                visit.date(),
                time(visit.bookedStart()),
                visit.practitioner(),
                visit.method().code(),
                visit.ears().code(),
                byVisit.get(visit.id()),
                patients.get(visit.id()).size(),
                visit.slotMinutes(),
                visit.inRoom().orElseThrow(),
                fourInFive,
                codes(visit.wax()),
                codes(visit.canal()),
                codes(visit.depth()));
    }

    private static List<String> codes(Collection<? extends Word> words) {
        return words.stream().map(Word::code).toList();
    }

    private @Nullable LocalTime time(@Nullable Instant instant) {
        return instant == null ? null : LocalTime.ofInstant(instant, zone);
    }
}
