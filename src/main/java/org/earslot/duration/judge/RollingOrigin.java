package org.earslot.duration.judge;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.duration.Estimator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.past.RowOrder;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;

/**
 * How good is it: each visit is forecast from the visits of earlier days only, by several estimators on the same past.
 *
 * <p>Visits are taken in order of day. From a first origin on they are cut into blocks of nearly the same size, moved so
 * that no day is split; before each block every contestant is refitted on all that came before, then forecasts the
 * block, each visit with its own lateness at call-in. Nothing is drawn by chance.
 */
public final class RollingOrigin {

    private static final String ANY_KIND = "";
    private static final int ANY_NUMBER = 0;

    private RollingOrigin() {}

    /**
     * @param name as shown
     * @param estimator refitted at each origin
     */
    public record Contestant(String name, Estimator estimator) {}

    /**
     * How to roll.
     *
     * @param first visits before the first origin, at least 0; 0 judges what is said before any visit
     * @param blocks how often to fit, at least 1
     * @param slotProbability the quantile that slots are made of, in the open interval (0, 1)
     */
    public record Plan(int first, int blocks, double slotProbability) {
        public Plan {
            if (first < 0) {
                throw new IllegalArgumentException("first is " + first + "; give a number from 0");
            }
            if (blocks < 1) {
                throw new IllegalArgumentException("blocks is " + blocks + "; give a number from 1");
            }
            Scores.openUnit("slotProbability", slotProbability);
        }
    }

    /**
     * Visits alike in kind of part and number of parts (method and ears).
     *
     * @param kind the kinds of the visit's parts, joined by "+" where they differ; "" for any
     * @param parts how many parts, 0 for any
     */
    public record Group(String kind, int parts) implements Comparable<Group> {

        private static final Comparator<Group> ORDER =
                Comparator.comparing(Group::kind).thenComparing(Group::parts);

        @Override
        public int compareTo(Group other) {
            return ORDER.compare(this, other);
        }

        /** The groups a visit belongs to: by kind, by number of parts, by both. */
        static List<Group> of(VisitTerms visit) {
            String kind = String.join(
                    "+",
                    visit.parts().stream().map(Part::kind).distinct().sorted().toList());
            int parts = visit.parts().size();
            return List.of(new Group(kind, ANY_NUMBER), new Group(ANY_KIND, parts), new Group(kind, parts));
        }
    }

    /** A block: its first and last day, and how its visits were forecast. */
    public record Stretch(long fromDay, long toDay, ScoreCard card) {}

    /**
     * How one contestant did.
     *
     * @param overall over all judged visits
     * @param byGroup within each group that has visits, in order
     * @param overTime block by block
     */
    public record Result(String name, ScoreCard overall, Map<Group, ScoreCard> byGroup, List<Stretch> overTime) {
        public Result {
            byGroup = Collections.unmodifiableMap(new LinkedHashMap<>(byGroup));
            overTime = List.copyOf(overTime);
        }
    }

    /**
     * Judges the contestants, in their order.
     *
     * @param rows any order; the step of their minutes is taken as 1 if all are whole, else as 0
     * @return one result a contestant; empty if no visit comes after the first origin
     */
    public static List<Result> judge(List<VisitRow> rows, List<Contestant> contestants, Plan plan) {
        List<VisitRow> sorted = RowOrder.inOrder(rows, Priors.weak());
        List<Integer> ends = blockEnds(sorted, plan);
        if (ends.size() < 2) {
            return List.of();
        }
        double step = rows.stream().allMatch(row -> row.minutes() == Math.rint(row.minutes())) ? 1 : 0;
        return contestants.stream()
                .map(contestant -> judge(sorted, ends, contestant, step, plan.slotProbability()))
                .toList();
    }

    private static Result judge(
            List<VisitRow> rows, List<Integer> ends, Contestant contestant, double step, double slotProbability) {
        List<Judged> all = new ArrayList<>();
        Map<Group, List<Judged>> groups = new TreeMap<>();
        List<Stretch> overTime = new ArrayList<>();
        for (int block = 0; block + 1 < ends.size(); block++) {
            FittedModel model = contestant.estimator().fit(rows.subList(0, ends.get(block)));
            List<VisitRow> next = rows.subList(ends.get(block), ends.get(block + 1));
            List<Judged> judged = new ArrayList<>();
            for (VisitRow row : next) {
                Judged visit = new Judged(model.predict(row.terms()).completion(), row.minutes(), row.stoppedEarly());
                judged.add(visit);
                Group.of(row.terms())
                        .forEach(group -> groups.computeIfAbsent(group, none -> new ArrayList<>())
                                .add(visit));
            }
            all.addAll(judged);
            overTime.add(new Stretch(
                    next.get(0).terms().day(),
                    next.get(next.size() - 1).terms().day(),
                    ScoreCard.of(judged, step, slotProbability)));
        }
        Map<Group, ScoreCard> byGroup = new LinkedHashMap<>();
        groups.forEach((group, visits) -> byGroup.put(group, ScoreCard.of(visits, step, slotProbability)));
        return new Result(contestant.name(), ScoreCard.of(all, step, slotProbability), byGroup, overTime);
    }

    /** Where blocks end, the first origin first: each at a change of day, none twice. */
    private static List<Integer> blockEnds(List<VisitRow> rows, Plan plan) {
        List<Integer> ends = new ArrayList<>();
        for (int block = 0; block <= plan.blocks(); block++) {
            long span = Math.max(0, rows.size() - plan.first());
            int end = (int) Math.min(rows.size(), plan.first() + span * block / plan.blocks());
            while (end > 0
                    && end < rows.size()
                    && rows.get(end).terms().day() == rows.get(end - 1).terms().day()) {
                end++;
            }
            if (ends.isEmpty() || end > ends.get(ends.size() - 1)) {
                ends.add(end);
            }
        }
        return ends;
    }
}
