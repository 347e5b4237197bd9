package org.earslot.duration.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.predict.Layout;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Prior;
import org.earslot.duration.table.Prior.Place;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Vocabulary;

/**
 * Draws up the columns of a table, and what is assumed of the coefficient in each.
 *
 * <p>The effects of one level in different kinds are assumed correlated: what slows one kind of work slows the others.
 */
final class LayoutBuilder {

    /** The assumed correlation of the effects of one level between kinds. */
    static final double BETWEEN_KINDS = 0.7;

    /** Where one level's effects by kind would need more columns than this, all kinds share them. */
    private static final int MOST_COLUMNS = 400;

    /** How far practice may have changed, on the log scale, by place. */
    static final double AFTER_CHANGE = 0.3;

    private static final int NONE = Layout.NONE;

    private final Vocabulary vocabulary;
    private final Priors priors;
    private final int kinds;
    private final int places;
    private final int[] base;
    private final int[][][] columns;
    private final int[][] numberColumns;
    private final double[] numberCentre;
    private final double[] numberScale;

    /** Assumed mean and standard deviation by column. */
    private final List<double[]> assumed = new ArrayList<>();

    private final Layout layout;

    /** @param changeDay from which on every place has minutes of its own again, {@code Long.MAX_VALUE} for never */
    LayoutBuilder(PastVisits visits, Priors priors, long changeDay) {
        vocabulary = visits.vocabulary;
        this.priors = priors;
        kinds = vocabulary.kinds.size();
        places = kinds + 1;
        int factors = vocabulary.factors.size();
        base = new int[places];
        columns = new int[places][factors][];
        numberColumns = new int[places][factors];
        numberCentre = new double[factors];
        numberScale = new double[factors];
        Arrays.fill(numberScale, 1);
        centreNumbers(visits);
        addBases(visits);
        addLevels(mentioned(visits));
        addNumbers(visits);
        int lateColumn = visits.late0 ? addNumber("lateness", 1) : NONE;
        int[] hurry = {NONE, NONE};
        for (int bend = 0; bend < hurry.length && visits.late0; bend++) {
            hurry[bend] = addNumber("hurry", 1);
        }
        int[] since = new int[places];
        for (int place = 0; place < places; place++) {
            since[place] = changeDay == Long.MAX_VALUE ? NONE : add(0, AFTER_CHANGE);
        }
        layout = new Layout(
                vocabulary,
                priors,
                assumed.size(),
                base,
                columns,
                new Layout.Numbers(numberColumns, numberCentre, numberScale),
                new Layout.Lateness(lateColumn, hurry),
                new Layout.Change(changeDay, since),
                assumed.get(base[0])[0]);
    }

    Layout layout() {
        return layout;
    }

    /** The assumed coefficients. */
    double[] mean() {
        return assumed.stream().mapToDouble(line -> line[0]).toArray();
    }

    private double sd(int column) {
        return assumed.get(column)[1];
    }

    private boolean[][] mentioned(PastVisits visits) {
        int factors = vocabulary.factors.size();
        boolean[][] mentioned = new boolean[places][factors];
        for (int s = 0; s < visits.segments; s++) {
            boolean[] of = mentioned[visits.kind[s] + 1];
            for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
                if (!PastVisits.isNumber(visits.term[t])) {
                    of[PastVisits.factorOf(visits.term[t])] = true;
                }
            }
        }
        for (Prior line : priors.lines()) {
            int factor = vocabulary.factors.find(line.factor());
            if (factor != Names.NONE && line.place() == Place.ONCE) {
                mentioned[0][factor] = true;
            }
            if (factor != Names.NONE && line.place() == Place.PART) {
                for (int place = 1; place < places; place++) {
                    mentioned[place][factor] = true;
                }
            }
        }
        return mentioned;
    }

    private void addBases(PastVisits visits) {
        double half = 0;
        if (!priors.knowMinutes()) {
            double[] logs = Arrays.copyOf(visits.log, visits.count);
            Arrays.sort(logs);
            boolean parts = visits.segments > visits.count;
            half = (logs.length == 0 ? Math.log(15) : logs[logs.length / 2]) - (parts ? Math.log(2) : 0);
        }
        for (int place = 0; place < places; place++) {
            String kind = place == 0 ? "*" : vocabulary.kinds.name(place - 1);
            Prior line = priors.line(place == 0 ? Place.ONCE : Place.PART, kind, "-", "-");
            base[place] = add(priors.knowMinutes() ? Math.log(line.value()) : half, line.spread());
        }
    }

    private void addLevels(boolean[][] mentioned) {
        for (int factor = 0; factor < vocabulary.factors.size(); factor++) {
            Names levels = vocabulary.levels.get(factor);
            if (levels.size() == 0) {
                continue;
            }
            int reference = vocabulary.reference(factor);
            if (mentioned[0][factor]) {
                columns[0][factor] = addFactor(0, factor, reference);
            }
            boolean shared = shared(factor, levels.size());
            int[] first = null;
            for (int place = 1; place < places; place++) {
                if (mentioned[place][factor]) {
                    if (first == null || !shared) {
                        first = addFactor(place, factor, reference);
                    }
                    columns[place][factor] = first;
                }
            }
        }
    }

    /** Whether a factor has the same effect in every kind: so the priors say, or the table is too wide otherwise. */
    private boolean shared(int factor, int levels) {
        return priors.shared(vocabulary.factors.name(factor)) || kinds * levels > 60 || assumed.size() > MOST_COLUMNS;
    }

    private int[] addFactor(int place, int factor, int reference) {
        String kind = place == 0 ? "*" : vocabulary.kinds.name(place - 1);
        String name = vocabulary.factors.name(factor);
        Names levels = vocabulary.levels.get(factor);
        int[] result = new int[levels.size()];
        for (int level = 0; level < result.length; level++) {
            if (level == reference) {
                result[level] = NONE;
                continue;
            }
            Prior line = priors.line(place == 0 ? Place.ONCE : Place.PART, kind, name, levels.name(level));
            result[level] = add(Math.log(line.value()), line.spread());
        }
        return result;
    }

    private void centreNumbers(PastVisits visits) {
        if (priors.knowMinutes()) {
            return;
        }
        double[][] all = visits.numberSums();
        for (int factor = 0; factor < all.length; factor++) {
            double[] sums = all[factor];
            if (sums[0] > 0) {
                double mean = sums[1] / sums[0];
                double variance = sums[2] / sums[0] - mean * mean;
                numberCentre[factor] = mean;
                numberScale[factor] = variance > 1e-12 * Math.max(1, mean * mean) ? Math.sqrt(variance) : 1;
            }
        }
    }

    private void addNumbers(PastVisits visits) {
        for (int[] of : numberColumns) {
            Arrays.fill(of, NONE);
        }
        boolean[][] present = new boolean[places][vocabulary.factors.size()];
        for (int s = 0; s < visits.segments && visits.withNumbers; s++) {
            for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
                if (PastVisits.isNumber(visits.term[t])) {
                    present[visits.kind[s] + 1][PastVisits.factorOf(visits.term[t])] = true;
                }
            }
        }
        for (int factor = 0; factor < vocabulary.factors.size(); factor++) {
            for (int place = 0; place < places; place++) {
                if (present[place][factor]) {
                    numberColumns[place][factor] = addNumber(vocabulary.factors.name(factor), 1);
                }
            }
        }
    }

    private int addNumber(String name, double scale) {
        Prior line = priors.line(Place.NUMBER, "*", name, "-");
        return add(line.value() * scale, line.spread() * scale);
    }

    private int add(double mean, double sd) {
        assumed.add(new double[] {mean, sd});
        return assumed.size() - 1;
    }

    /** Their assumed precision, dense, both triangles. */
    double[][] precision() {
        int width = assumed.size();
        double[][] precision = new double[width][width];
        for (int j = 0; j < width; j++) {
            double sd = assumed.get(j)[1];
            precision[j][j] = 1 / (sd * sd);
        }
        for (int factor = 0; factor < vocabulary.factors.size(); factor++) {
            for (int level = 0; level < vocabulary.levels.get(factor).size(); level++) {
                int[] same = new int[kinds];
                int count = 0;
                for (int place = 1; place < places; place++) {
                    int[] of = columns[place][factor];
                    if (of != null && of[level] != NONE && (count == 0 || same[count - 1] != of[level])) {
                        same[count++] = of[level];
                    }
                }
                correlate(precision, same, count);
            }
        }
        return precision;
    }

    /** The inverse of s_i s_j (r + (1 - r) [i = j]). */
    private void correlate(double[][] precision, int[] same, int count) {
        double r = BETWEEN_KINDS;
        double off = -r / ((1 - r) * (1 - r + r * count));
        for (int i = 0; i < count; i++) {
            for (int j = 0; j < count; j++) {
                double value = (i == j ? 1 / (1 - r) : 0) + off;
                precision[same[i]][same[j]] = value / (sd(same[i]) * sd(same[j]));
            }
        }
    }
}
