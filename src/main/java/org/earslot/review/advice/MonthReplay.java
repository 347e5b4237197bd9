package org.earslot.review.advice;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.ToIntFunction;
import java.util.stream.IntStream;
import org.earslot.flow.past.Replay;
import org.earslot.review.figures.HeadLine;
import org.earslot.review.figures.MeasuredVisit;
import org.earslot.review.figures.PastList;

/**
 * The real lists of a month, to be run again with other slots. Left out are lists of which no times are known, and those
 * whose times cannot be put in order on the clock. Where no session is known there is no end to fit into, and no overtime
 * or idle time is told.
 */
final class MonthReplay {

    private final List<Listed> lists = new ArrayList<>();
    private final Map<String, MeasuredVisit> byName = new HashMap<>();
    private final Run now;
    private final double usualSlot;

    private record Listed(PastList list, Replay replay, Replay.Outcome asItWas) {

        boolean inSession() {
            return list.session() != null;
        }
    }

    /** Adds up what the lists give. */
    private static final class Run {

        private int waits;
        private int late;
        private double wait;
        private double overtime;
        private double idle;

        void add(Listed list, Replay.Outcome outcome) {
            for (Replay.Seen seen : outcome.seen()) {
                waits++;
                wait += seen.waitMinutes();
                late += seen.waitMinutes() > HeadLine.LATE ? 1 : 0;
            }
            if (list.inSession()) {
                overtime += outcome.overtimeMinutes();
                idle += outcome.idleMinutes();
            }
        }

        ReplayEffect.Run told() {
            return new ReplayEffect.Run(waits, late, wait, overtime, idle);
        }
    }

    MonthReplay(List<PastList> past) {
        now = new Run();
        for (PastList list : past) {
            if (list.timed() && !list.outOfOrderOnTheClock()) {
                Replay replay = list.replay();
                Listed listed = new Listed(list, replay, replay.asItWas());
                lists.add(listed);
                now.add(listed, listed.asItWas());
                list.visits().forEach(visit -> byName.put(visit.id().toString(), visit));
            }
        }
        usualSlot = usual(byName.values().stream().mapToInt(MonthReplay::slot));
    }

    private static double usual(IntStream slots) {
        return slots.filter(slot -> slot > 0).average().orElse(0);
    }

    /** The month as it was. */
    ReplayEffect.Run asItWas() {
        return now.told();
    }

    /** @param slotMinutes the slot of each booked visit; of one whose slot is not known it is not asked */
    ReplayEffect with(ToIntFunction<MeasuredVisit> slotMinutes) {
        Map<String, Integer> slots = new HashMap<>();
        int changed = 0;
        for (Map.Entry<String, MeasuredVisit> each : byName.entrySet()) {
            int before = slot(each.getValue());
            int then = before == 0 ? 0 : slotMinutes.applyAsInt(each.getValue());
            slots.put(each.getKey(), then);
            changed += then == before ? 0 : 1;
        }
        Run run = new Run();
        // Whoever came besides would need a slot of the longer of the two usual ones.
        double needed = Math.max(usualSlot, usual(slots.values().stream().mapToInt(Integer::intValue)));
        List<ReplayEffect.Unfit> unfit = new ArrayList<>();
        int more = 0;
        for (Listed list : lists) {
            Replay.Outcome outcome = list.replay().with(slots::get);
            run.add(list, outcome);
            outcome.noLongerFit().forEach(name -> unfit.add(unfit(list, name)));
            more += more(list, outcome, needed);
        }
        return new ReplayEffect(changed, now.told(), run.told(), List.copyOf(unfit), more);
    }

    private ReplayEffect.Unfit unfit(Listed list, String name) {
        MeasuredVisit visit = Objects.requireNonNull(byName.get(name));
        return new ReplayEffect.Unfit(
                visit.visitRef(),
                visit.date(),
                LocalTime.ofInstant(
                        Objects.requireNonNull(visit.bookedStart()), list.list().zone()),
                visit.practitioner(),
                visit.method().code(),
                visit.ears().code());
    }

    /** For how many more usual slots the free ends of the session's stretches have room. */
    private static int more(Listed list, Replay.Outcome outcome, double needed) {
        if (!list.inSession() || needed == 0) {
            return 0;
        }
        int more = 0;
        for (int i = 0; i < outcome.freeMinutes().size(); i++) {
            int before = (int) (list.asItWas().freeMinutes().get(i) / needed);
            more += Math.max(0, (int) (outcome.freeMinutes().get(i) / needed) - before);
        }
        return more;
    }

    private static int slot(MeasuredVisit visit) {
        return visit.fitIn() || visit.bookedStart() == null || visit.slotMinutes() == null ? 0 : visit.slotMinutes();
    }
}
