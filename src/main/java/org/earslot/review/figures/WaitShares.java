package org.earslot.review.figures;

import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.ClinicSession;
import org.earslot.ear.Word;
import org.earslot.estimate.BookedEstimate;
import org.earslot.flow.past.WaitSources;
import org.earslot.flow.past.WaitSources.Cause;
import org.earslot.review.figures.Waits.CauseLine;
import org.earslot.review.figures.Waits.CostlyVisit;
import org.earslot.review.figures.Waits.Shared;
import org.jspecify.annotations.Nullable;

/** Shares the waits of past lists out to their sources, list by list, and adds them up. */
public final class WaitShares {

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
    public static Shared of(List<MeasuredVisit> visits, List<ClinicSession> held, ZoneId zone) {
        WaitShares shares = new WaitShares(zone);
        PastList.of(visits, held, zone).forEach(shares::add);
        return new Shared(shares.waits(visits), shares.byVisit);
    }

    private void add(PastList list) {
        if (!list.timed()) {
            return;
        }
        if (list.outOfOrderOnTheClock()) {
            leftOut++;
            return;
        }
        Map<String, UUID> ids = new HashMap<>();
        list.visits().forEach(visit -> ids.put(visit.id().toString(), visit.id()));
        WaitSources sources = WaitSources.of(list.hours(), list.realised());
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

    private Waits waits(List<MeasuredVisit> visits) {
        List<CauseLine> causes = minutes.entrySet().stream()
                .map(entry -> new CauseLine(
                        entry.getKey().code(),
                        entry.getValue(),
                        waited.get(entry.getKey()).size()))
                .toList();
        List<CostlyVisit> costliest = visits.stream()
                .filter(visit -> byVisit.getOrDefault(visit.id(), 0.0) > 0)
                .sorted(Comparator.<MeasuredVisit>comparingDouble(visit -> -byVisit.get(visit.id()))
                        .thenComparing(MeasuredVisit::visitRef))
                .limit(Waits.SHOWN)
                .map(this::costly)
                .toList();
        return Waits.of(whole, causes, costliest, leftOut);
    }

    private CostlyVisit costly(MeasuredVisit visit) {
        Double fourInFive = BookedEstimate.find(visit.estimated())
                .map(estimate -> estimate.inRoomMinutes().quantile(0.8))
                .orElse(null);
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
