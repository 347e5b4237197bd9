package org.earslot.duration.judge;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.earslot.duration.Estimator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.findings.Circumstances;
import org.earslot.duration.findings.FindingTable;
import org.earslot.duration.past.LastFindings;
import org.earslot.duration.predict.ComfortStops;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.jspecify.annotations.Nullable;

/**
 * Conjugate Bayesian regression of log minutes: every effect multiplies the whole visit.
 *
 * <p>log T = x b + e, e ~ Normal(0, s^2), b_j | s^2 ~ Normal(m_j, s^2 v_j), s^2 ~ InverseGamma(a, a s0^2), so that the
 * prediction is a Student t on the log scale. Columns: one; kind of part and log of the number of parts; each level of
 * each factor but its reference; numbers; lateness; one shrunken column per group. Levels and kinds of several parts
 * enter by their mean. A level not known enters by its expectation over the learnt shares, and the variance over those
 * shares is added to the prediction. Visits stopped early are raised to their expected completion, twice over.
 */
public final class LogLinear implements Estimator {

    /** Worth of the assumed residual variance: the a of its inverse gamma. */
    private static final double SHAPE = 3;

    /** How often stopped-early visits are raised to their expected completion under the fit before. */
    private static final int RAISES = 2;

    private final Priors priors;
    private final boolean flat;

    private LogLinear(Priors priors, boolean flat) {
        this.priors = priors;
        this.flat = flat;
    }

    /** On these priors. */
    public static LogLinear with(Priors priors) {
        return new LogLinear(priors, false);
    }

    /** Without priors: ordinary least squares and its exact prediction. Needs more visits than columns. */
    public static LogLinear flat() {
        return new LogLinear(Priors.weak(), true);
    }

    @Override
    public FittedModel fit(Iterable<VisitRow> rows) {
        List<VisitRow> visits = new ArrayList<>();
        rows.forEach(visits::add);
        Columns columns = new Columns(visits, priors, !flat);
        LogLinearModel model = solve(columns, visits, null);
        for (int raise = 0; raise < RAISES && model.stoppedEarly() > 0; raise++) {
            model = solve(columns, visits, model);
        }
        return model;
    }

    private LogLinearModel solve(Columns columns, List<VisitRow> visits, @Nullable LogLinearModel before) {
        int width = columns.width();
        LeastSquares squares = new LeastSquares(width);
        double noise = priors.line(Place.SIZE, "*", "noise", "-").value();
        double weight = 0;
        ComfortStops stops = new ComfortStops(priors);
        int stoppedEarly = 0;
        for (VisitRow visit : visits) {
            double[] x = new double[width];
            columns.fill(visit.terms(), true, x);
            double log = Math.log(visit.minutes());
            if (visit.stoppedEarly()) {
                stoppedEarly++;
                log = before == null ? log : before.raised(x, log);
            }
            double root = Math.sqrt(visit.weight());
            for (int j = 0; j < width; j++) {
                x[j] *= root;
            }
            squares.add(x, log * root);
            weight += visit.weight();
            stops.count(visit);
        }
        if (!flat) {
            for (int j = 0; j < width; j++) {
                double[] x = new double[width];
                x[j] = noise / columns.sd(j);
                squares.add(x, x[j] * columns.mean(j));
            }
        }
        LeastSquares.Solution solution = squares.solve();
        double shape = flat ? (weight - width) / 2 : SHAPE + weight / 2;
        double rate = (flat ? 0 : SHAPE * noise * noise) + solution.residualSquares() / 2;
        return new LogLinearModel(columns, solution, shape, rate, stops, visits.size(), stoppedEarly);
    }

    /** The columns of the table, with what is assumed of each, and the shares of levels not known. */
    static final class Columns {

        private static final Circumstances.Buffer NOTHING_ELSE = new Circumstances.Buffer();

        private final Priors priors;
        private final boolean withGroups;
        private final Map<String, Integer> index = new LinkedHashMap<>();
        private final List<double[]> assumed = new ArrayList<>();
        private final Map<String, List<String>> levels = new TreeMap<>();
        private final Map<String, FindingTable> tables = new HashMap<>();
        private final Map<String, Integer> sources = new HashMap<>();
        private final TreeSet<String> kinds = new TreeSet<>();
        private final TreeSet<String> numbers = new TreeSet<>();
        private final TreeSet<String> partFactors = new TreeSet<>();

        Columns(List<VisitRow> visits, Priors priors, boolean withGroups) {
            this.priors = priors;
            this.withGroups = withGroups;
            // As they come, so that what a group is called changes nothing.
            Set<String> groups = new LinkedHashSet<>();
            boolean late = false;
            for (VisitRow visit : visits) {
                VisitTerms terms = visit.terms();
                terms.once().forEach(this::see);
                for (Part part : terms.parts()) {
                    kinds.add(part.kind());
                    part.terms().forEach(term -> {
                        see(term);
                        partFactors.add(term.factor());
                    });
                }
                if (terms.group() != null) {
                    groups.add(terms.group());
                }
                late |= terms.lateness() > 0;
            }
            addColumns(visits, groups, late);
            countFindings(visits);
        }

        private void see(Term term) {
            List<String> named = namedIn(term);
            if (named.isEmpty() && !(term instanceof Term.Finding)) {
                numbers.add(term.factor());
                return;
            }
            List<String> before = levels.computeIfAbsent(
                    term.factor(),
                    factor -> priors.levels(factor).stream().sorted().distinct().toList());
            if (!before.containsAll(named)) {
                TreeSet<String> both = new TreeSet<>(before);
                both.addAll(named);
                levels.put(term.factor(), List.copyOf(both));
            }
        }

        private static List<String> namedIn(Term term) {
            if (term instanceof Term.Level level) {
                return List.of(level.level());
            } else if (term instanceof Term.Finding finding) {
                return Stream.of(finding.found(), finding.reported())
                        .filter(Objects::nonNull)
                        .toList();
            } else if (term instanceof Term.Mixture mixture) {
                return List.copyOf(mixture.shares().keySet());
            }
            return List.of();
        }

        private void addColumns(List<VisitRow> visits, Set<String> groups, boolean late) {
            double once = priors.line(Place.ONCE, "*", "-", "-").value();
            double part = priors.line(Place.PART, "*", "-", "-").value();
            double spread = priors.line(Place.ONCE, "*", "-", "-").spread();
            double middle = priors.knowMinutes() ? Math.log(once + part) : medianLog(visits);
            column("1", middle, spread);
            for (String kind : kinds) {
                double own = priors.line(Place.PART, kind, "-", "-").value();
                column("kind:" + kind, priors.knowMinutes() ? Math.log((once + own) / (once + part)) : 0, 0.4);
            }
            if (!kinds.isEmpty()) {
                column("parts", 0.6, 0.3);
            }
            levels.forEach((factor, names) -> {
                String reference = Priors.reference(names);
                for (String level : names) {
                    if (!level.equals(reference)) {
                        Prior line = assumed(factor, level);
                        column("level:" + factor + ":" + level, 0.55 * Math.log(line.value()), line.spread());
                    }
                }
            });
            for (String number : numbers) {
                Prior line = priors.line(Place.NUMBER, "*", number, "-");
                column("number:" + number, line.value(), line.spread());
            }
            if (late) {
                Prior line = priors.line(Place.NUMBER, "*", "lateness", "-");
                column("late", line.value(), line.spread());
            }
            if (withGroups) {
                double size = priors.line(Place.SIZE, "*", "group", "-").value();
                groups.forEach(group -> column("group:" + group, 0, size));
            }
        }

        /** The mean over kinds, as minutes and as multiplier. */
        private Prior assumed(String factor, String level) {
            if (!partFactors.contains(factor) || kinds.isEmpty()) {
                return priors.line(Place.ONCE, "*", factor, level);
            }
            double logs = 0;
            double spread = 0;
            for (String kind : kinds) {
                Prior line = priors.line(Place.PART, kind, factor, level);
                logs += Math.log(line.value()) / kinds.size();
                spread += line.spread() / kinds.size();
            }
            return new Prior(Place.PART, "*", factor, level, Math.exp(logs), spread, "mean over kinds");
        }

        private static double medianLog(List<VisitRow> visits) {
            double[] logs = visits.stream()
                    .mapToDouble(visit -> Math.log(visit.minutes()))
                    .sorted()
                    .toArray();
            return logs.length == 0 ? Math.log(15) : logs[logs.length / 2];
        }

        private void column(String name, double mean, double sd) {
            index.put(name, index.size());
            assumed.add(new double[] {mean, sd});
        }

        private void countFindings(List<VisitRow> visits) {
            Map<String, FindingTable.Tally> tallies = new HashMap<>();
            levels.forEach((factor, names) -> tallies.put(factor, new FindingTable.Tally(factor, names, priors, 0)));
            for (VisitRow visit : visits) {
                VisitTerms terms = visit.terms();
                int source = terms.source() == null
                        ? FindingTable.NONE
                        : sources.computeIfAbsent(terms.source(), any -> sources.size());
                terms.once().forEach(term -> countFinding(term, source, visit.weight(), tallies));
                terms.parts()
                        .forEach(part ->
                                part.terms().forEach(term -> countFinding(term, source, visit.weight(), tallies)));
            }
            tallies.forEach((factor, tally) -> tables.put(factor, tally.table(new int[0])));
        }

        private void countFinding(Term term, int source, double weight, Map<String, FindingTable.Tally> tallies) {
            if (term instanceof Term.Finding finding && finding.found() != null) {
                List<String> names = levels(term.factor());
                int reported = finding.reported() == null ? FindingTable.NONE : names.indexOf(finding.reported());
                Objects.requireNonNull(tallies.get(term.factor()))
                        .count(
                                names.indexOf(finding.found()),
                                reported,
                                source,
                                NOTHING_ELSE,
                                LastFindings.NONE,
                                weight);
            }
        }

        List<String> levels(String factor) {
            return levels.getOrDefault(factor, List.of());
        }

        FindingTable table(String factor) {
            FindingTable table = tables.get(factor);
            if (table == null) {
                throw new IllegalStateException("no table of " + factor);
            }
            return table;
        }

        int width() {
            return index.size();
        }

        double mean(int column) {
            return assumed.get(column)[0];
        }

        double sd(int column) {
            return assumed.get(column)[1];
        }

        Set<String> names() {
            return index.keySet();
        }

        /** How much groups are assumed to differ, on the log scale; 0 where no group has a column. */
        double groupSize() {
            return withGroups ? priors.line(Place.SIZE, "*", "group", "-").value() : 0;
        }

        int column(String name) {
            return index.getOrDefault(name, -1);
        }

        /**
         * Fills x for a visit.
         *
         * @param past whether what was found may be looked at
         * @return the variance of x b over levels not known needs the coefficients: the shares by term, in order
         */
        List<Spread> fill(VisitTerms terms, boolean past, double[] x) {
            List<Spread> spreads = new ArrayList<>();
            add(x, "1", 1);
            int source = terms.source() == null
                    ? FindingTable.NONE
                    : sources.getOrDefault(terms.source(), FindingTable.NONE);
            for (Term term : terms.once()) {
                fillTerm(term, "", source, past, 1, x, spreads);
            }
            int parts = terms.parts().size();
            for (Part part : terms.parts()) {
                add(x, "kind:" + part.kind(), 1.0 / parts);
                for (Term term : part.terms()) {
                    fillTerm(term, part.name(), source, past, 1.0 / parts, x, spreads);
                }
            }
            add(x, "parts", parts == 0 ? 0 : Math.log(parts));
            add(x, "late", terms.lateness());
            if (terms.group() != null) {
                add(x, "group:" + terms.group(), 1);
            }
            return spreads;
        }

        private void fillTerm(
                Term term, String part, int source, boolean past, double share, double[] x, List<Spread> spreads) {
            if (term instanceof Term.Number number) {
                add(x, "number:" + term.factor(), share * number.value());
                return;
            }
            List<String> names = levels(term.factor());
            if (names.isEmpty()) {
                return;
            }
            double[] shares = shares(term, names, source, past);
            String label = "";
            for (int level = 0; level < shares.length; level++) {
                add(x, "level:" + term.factor() + ":" + names.get(level), share * shares[level]);
                if (shares[level] == 1) {
                    label = names.get(level);
                }
            }
            if (term instanceof Term.Finding finding && finding.reported() != null) {
                label = finding.reported();
            }
            spreads.add(new Spread(part, term, label, names, shares, share));
        }

        private double[] shares(Term term, List<String> names, int source, boolean past) {
            double[] shares = new double[names.size()];
            if (term instanceof Term.Level level) {
                set(shares, names.indexOf(level.level()), 1);
            } else if (term instanceof Term.Mixture mixture) {
                mixture.shares().forEach((level, share) -> set(shares, names.indexOf(level), share));
            } else if (term instanceof Term.Finding finding) {
                if (past && finding.found() != null) {
                    set(shares, names.indexOf(finding.found()), 1);
                } else {
                    int reported = finding.reported() == null ? -1 : names.indexOf(finding.reported());
                    table(term.factor()).shares(reported, source, NOTHING_ELSE, LastFindings.NONE, shares);
                }
            }
            return shares;
        }

        /** A level never seen before the fit has no effect of its own. */
        private static void set(double[] shares, int level, double share) {
            if (level >= 0) {
                shares[level] = share;
            }
        }

        private void add(double[] x, String name, double value) {
            int column = column(name);
            if (column >= 0) {
                x[column] += value;
            }
        }
    }

    /**
     * The shares of one term's levels.
     *
     * @param weight with which the term enters (one over the number of parts)
     */
    record Spread(String part, Term term, String label, List<String> names, double[] shares, double weight) {

        /** Mean and variance of the coefficient over the levels. */
        double[] moments(Columns columns, double[] coefficients) {
            double mean = 0;
            double square = 0;
            for (int level = 0; level < shares.length; level++) {
                int column = columns.column("level:" + term.factor() + ":" + names.get(level));
                double effect = column < 0 ? 0 : coefficients[column];
                mean += shares[level] * effect;
                square += shares[level] * effect * effect;
            }
            return new double[] {mean, Math.max(0, square - mean * mean)};
        }

        @Override
        public boolean equals(@Nullable Object other) {
            return other instanceof Spread spread
                    && part.equals(spread.part)
                    && term.equals(spread.term)
                    && Arrays.equals(shares, spread.shares);
        }

        @Override
        public int hashCode() {
            return 31 * part.hashCode() + term.hashCode();
        }
    }
}
