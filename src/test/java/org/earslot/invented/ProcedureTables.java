package org.earslot.invented;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;

/**
 * Tables of procedure times that have nothing to do with ears: other levels, longer times, other noise. Sizes are drawn
 * from the seed; all are invented.
 */
public final class ProcedureTables {

    private static final int A_DAY = 6;

    private ProcedureTables() {}

    /**
     * Two procedures, each alone or both under one set-up, by eight people of differing pace.
     *
     * <p>Minutes = set-up (by kind of anaesthesia, longer for the frail) + each procedure, with gamma noise of its own, times
     * a log-normal factor of the day's work; the second procedure of two is quicker. Whole minutes; cases in order of day.
     */
    public static List<VisitRow> sharedSetUp(long seed, int cases) {
        Luck luck = new Luck(seed * 7919 + 1);
        double setUp = luck.between(15, 30);
        double general = luck.between(8, 18);
        double[] work = {luck.between(25, 45), luck.between(40, 80)};
        double complex = luck.between(0.2, 0.5);
        double weight = luck.between(0.002, 0.012);
        double second = luck.between(0.75, 1);
        double[][] pace = paces(luck, 8, 0.18, 0.08);
        double[] shape = {luck.between(5, 9), luck.between(8, 14)};
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < cases; i++) {
            int person = luck.below(pace.length);
            boolean asleep = luck.happens(0.6);
            int frailty = luck.pick(0.5, 0.35, 0.15);
            double mass = Math.min(48, Math.max(17, 27 + 5 * luck.normal()));
            int which = luck.pick(0.45, 0.35, 0.2);
            List<Part> parts = new ArrayList<>();
            double minutes = (setUp + (asleep ? general : 0)) * (1 + 0.12 * frailty);
            for (int kind = 0; kind < work.length; kind++) {
                if (which == 2 || which == kind) {
                    boolean hard = luck.happens(0.25);
                    minutes += work[kind]
                            * (hard ? 1 + complex : 1)
                            * (1 + weight * Math.max(0, mass - 27))
                            * Math.exp(pace[person][kind])
                            * (parts.isEmpty() ? 1 : second)
                            * luck.gamma(shape[kind], 1);
                    parts.add(Part.planned(
                            "part " + kind,
                            kind == 0 ? "short procedure" : "long procedure",
                            Term.level("complexity", hard ? "complex" : "plain")));
                }
            }
            minutes *= Math.exp(0.12 * luck.normal()) * (luck.happens(0.02) ? luck.between(1.5, 2.5) : 1);
            VisitTerms terms = new VisitTerms(
                    List.of(
                            Term.level("anaesthesia", asleep ? "general" : "local"),
                            Term.level("frailty", "grade " + frailty),
                            Term.number("body mass", (mass - 27) / 5)),
                    parts,
                    "person " + person,
                    null,
                    null,
                    i / A_DAY,
                    0);
            rows.add(terms.took(Math.max(1, Math.rint(minutes)), Ending.COMPLETED));
        }
        return rows;
    }

    /**
     * One procedure in three variants whose practice changes sharply: from case {@code change} on all take another share
     * of the time, one variant more than the others, and vary less.
     */
    public static List<VisitRow> changeOfPractice(long seed, int cases, int change) {
        Luck luck = new Luck(seed * 7907 + 3);
        double level = luck.between(60, 110);
        double[] variant = {1, luck.between(1.1, 1.4), luck.between(1.3, 1.9)};
        double after = luck.happens(0.5) ? luck.between(0.65, 0.8) : luck.between(1.2, 1.4);
        double afterLast = luck.between(0.85, 1.15);
        double noise = luck.between(0.22, 0.35);
        double[][] pace = paces(luck, 5, 0.15, 0);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < cases; i++) {
            int which = luck.pick(0.5, 0.3, 0.2);
            int person = luck.below(pace.length);
            boolean trainee = luck.happens(0.3);
            double minutes = level * variant[which] * Math.exp(pace[person][0]) + (trainee ? 12 : 0);
            double spread = noise;
            if (i >= change) {
                minutes *= which == 2 ? after * afterLast : after;
                spread *= 0.9;
            }
            // Skewed, with a long right tail that is not log-normal.
            double factor = luck.happens(0.05)
                    ? 1 + luck.gamma(1.5, 0.6)
                    : Math.exp(spread * luck.normal() - 0.5 * spread * spread);
            VisitTerms terms = new VisitTerms(
                    List.of(Term.level("trainee", trainee ? "yes" : "no")),
                    List.of(Part.planned("whole", "variant " + which)),
                    "person " + person,
                    null,
                    null,
                    i / A_DAY,
                    0);
            rows.add(terms.took(Math.max(1, Math.rint(minutes * factor)), Ending.COMPLETED));
        }
        return rows;
    }

    /**
     * One procedure in three variants whose level drifts slowly: in even seeds by a straight line over the whole table, in
     * odd ones by a random walk from day to day. Nothing else changes.
     *
     * @param size about how far it drifts, on the log scale
     */
    public static List<VisitRow> slowDrift(long seed, int cases, double size) {
        Luck luck = new Luck(seed * 7901 + 5);
        double level = luck.between(40, 90);
        double[] variant = {1, luck.between(1.1, 1.4), luck.between(1.3, 1.9)};
        double whole = (luck.happens(0.5) ? 1 : -1) * size * luck.between(0.7, 1.1);
        double daily = size * luck.between(0.5, 0.9) / Math.sqrt((double) cases / A_DAY);
        double noise = luck.between(0.22, 0.35);
        double[][] pace = paces(luck, 5, 0.15, 0);
        double walked = 0;
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < cases; i++) {
            walked += i % A_DAY == 0 ? daily * luck.normal() : 0;
            int which = luck.pick(0.5, 0.3, 0.2);
            int person = luck.below(pace.length);
            boolean trainee = luck.happens(0.3);
            double drift = seed % 2 == 0 ? whole * i / cases : walked;
            double minutes = (level * variant[which] + (trainee ? 10 : 0)) * Math.exp(pace[person][0] + drift);
            double factor = luck.happens(0.04) ? 1 + luck.gamma(1.5, 0.6) : Math.exp(noise * luck.normal());
            VisitTerms terms = new VisitTerms(
                    List.of(Term.level("trainee", trainee ? "yes" : "no")),
                    List.of(Part.planned("whole", "variant " + which)),
                    "person " + person,
                    null,
                    null,
                    i / A_DAY,
                    0);
            rows.add(terms.took(Math.max(1, Math.rint(minutes * factor)), Ending.COMPLETED));
        }
        return rows;
    }

    /**
     * Eight procedures by twelve people with many factors of 3 to 12 levels each, a third of which matter; every second one
     * belongs to the procedure, the others to the visit. A slow drift.
     */
    public static List<VisitRow> wide(long seed, int cases, int factors) {
        Luck luck = new Luck(seed * 7907 + 11);
        double[][] effect = new double[factors][];
        for (int factor = 0; factor < factors; factor++) {
            effect[factor] = new double[3 + luck.below(10)];
            for (int level = 0; level < effect[factor].length; level++) {
                effect[factor][level] = factor % 3 == 0 ? 0.12 * luck.normal() : 0;
            }
        }
        double[][] pace = paces(luck, 12, 0.15, 0);
        double[][] kind = paces(luck, 8, 0.3, 0);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < cases; i++) {
            int person = luck.below(pace.length);
            int which = luck.below(kind.length);
            double log = Math.log(60) + pace[person][0] + kind[which][0] + 0.2 * i / cases + 0.3 * luck.normal();
            List<Term> once = new ArrayList<>();
            List<Term> own = new ArrayList<>();
            for (int factor = 0; factor < factors; factor++) {
                int level = luck.below(effect[factor].length);
                log += effect[factor][level];
                (factor % 2 == 0 ? once : own).add(Term.level("factor " + factor, "level " + level));
            }
            List<Part> parts = List.of(Part.planned("whole", "procedure " + which, own.toArray(Term[]::new)));
            VisitTerms terms = new VisitTerms(once, parts, "person " + person, null, null, i / A_DAY, 0);
            rows.add(terms.took(Math.max(1, Math.rint(Math.exp(log))), Ending.COMPLETED));
        }
        return rows;
    }

    private static double[][] paces(Luck luck, int people, double spread, double byKind) {
        double[][] paces = new double[people][2];
        for (double[] pace : paces) {
            double own = spread * luck.normal();
            pace[0] = own + byKind * luck.normal();
            pace[1] = own + byKind * luck.normal();
        }
        return paces;
    }
}
