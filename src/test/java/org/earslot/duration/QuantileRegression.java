package org.earslot.duration;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.ToDoubleFunction;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.QRDecomposition;

/**
 * Plain linear quantile regression (Koenker and Bassett 1978), a rival of the estimator on tables of procedure times:
 * minutes = sum of columns, the sum of quantile scores made least.
 *
 * <p>The score's corner is rounded over a width that shrinks step by step to a millionth of the table's spread; each step is
 * solved by Newton's method with halved steps. Rows stopped early count at face value, as they do in the plain method.
 */
final class QuantileRegression {

    private static final int ROUNDINGS = 24;
    private static final int STEPS = 60;

    private QuantileRegression() {}

    /** The slot for each visit, learnt from past rows. */
    static ToDoubleFunction<VisitTerms> learn(List<VisitRow> rows, double probability) {
        Map<String, Integer> columns = columns(rows);
        double[][] x = rows.stream().map(row -> row(row.terms(), columns)).toArray(double[][]::new);
        double[] y = rows.stream().mapToDouble(VisitRow::minutes).toArray();
        double[] b = solve(x, y, probability);
        return visit -> dot(row(visit, columns), b);
    }

    /**
     * The coefficients with the least sum of quantile scores of y - x b.
     *
     * @param x rows of columns, 1 among them
     */
    static double[] solve(double[][] x, double[] y, double probability) {
        int width = x[0].length;
        double mean = Arrays.stream(y).average().orElse(0);
        double spread = Math.sqrt(
                Arrays.stream(y).map(v -> (v - mean) * (v - mean)).average().orElse(1));
        double[] b = new double[width];
        double rounding = spread;
        for (int round = 0; round < ROUNDINGS; round++) {
            for (int step = 0; step < STEPS; step++) {
                double[] move = newton(x, y, b, probability, rounding);
                double before = loss(x, y, b, probability, rounding);
                double[] next = b;
                double length = 1;
                double after = before;
                for (int halving = 0; halving < 30; halving++, length /= 2) {
                    double[] tried = b.clone();
                    for (int j = 0; j < width; j++) {
                        tried[j] += length * move[j];
                    }
                    after = loss(x, y, tried, probability, rounding);
                    if (after < before) {
                        next = tried;
                        break;
                    }
                }
                b = next;
                if (!(before - after > 1e-11 * before)) {
                    break;
                }
            }
            rounding /= 1.8;
        }
        return b;
    }

    private static double loss(double[][] x, double[] y, double[] b, double probability, double rounding) {
        double sum = 0;
        for (int i = 0; i < y.length; i++) {
            double over = y[i] - dot(x[i], b);
            sum += (probability - 0.5) * over + 0.5 * Math.sqrt(over * over + rounding * rounding);
        }
        return sum;
    }

    private static double[] newton(double[][] x, double[] y, double[] b, double probability, double rounding) {
        int width = b.length;
        double[][] bend = new double[width][width];
        double[] slope = new double[width];
        for (int i = 0; i < y.length; i++) {
            double over = y[i] - dot(x[i], b);
            double root = Math.sqrt(over * over + rounding * rounding);
            double down = probability - 0.5 + 0.5 * over / root;
            double curve = 0.5 * rounding * rounding / (root * root * root);
            for (int j = 0; j < width; j++) {
                slope[j] += down * x[i][j];
                for (int k = 0; k <= j; k++) {
                    bend[j][k] += curve * x[i][j] * x[i][k];
                }
            }
        }
        double largest = 0;
        for (int j = 0; j < width; j++) {
            largest = Math.max(largest, bend[j][j]);
        }
        for (int j = 0; j < width; j++) {
            // A touch of ridge keeps columns that say the same from blowing up.
            bend[j][j] += 1e-10 * largest + 1e-14;
            for (int k = 0; k < j; k++) {
                bend[k][j] = bend[j][k];
            }
        }
        return new QRDecomposition(new Array2DRowRealMatrix(bend, false), 0)
                .getSolver()
                .solve(new ArrayRealVector(slope, false))
                .toArray();
    }

    private static double dot(double[] row, double[] b) {
        double sum = 0;
        for (int j = 0; j < b.length; j++) {
            sum += row[j] * b[j];
        }
        return sum;
    }

    /** One column for 1, each kind, each level of each factor (of parts by kind) and each group but the first, numbers. */
    private static Map<String, Integer> columns(List<VisitRow> rows) {
        TreeMap<String, TreeSet<String>> seen = new TreeMap<>();
        for (VisitRow row : rows) {
            for (String[] entry : entries(row.terms())) {
                seen.computeIfAbsent(entry[0], none -> new TreeSet<>()).add(entry[1]);
            }
        }
        Map<String, Integer> columns = new TreeMap<>();
        columns.put("1", 0);
        seen.forEach((factor, levels) -> {
            boolean number = levels.first().isEmpty();
            boolean reference = !number && !factor.equals("kind");
            for (String level : levels) {
                if (reference) {
                    reference = false;
                } else {
                    columns.put(factor + "=" + level, columns.size());
                }
            }
        });
        return columns;
    }

    private static double[] row(VisitTerms visit, Map<String, Integer> columns) {
        double[] row = new double[columns.size()];
        row[0] = 1;
        for (String[] entry : entries(visit)) {
            Integer column = columns.get(entry[0] + "=" + entry[1]);
            if (column != null) {
                row[column] += Double.parseDouble(entry[2]);
            }
        }
        return row;
    }

    /** Factor, level ("" for a number) and value, for each thing known of a visit beforehand. */
    private static List<String[]> entries(VisitTerms visit) {
        List<String[]> entries = new ArrayList<>();
        visit.once().forEach(term -> add(entries, "", term));
        for (Part part : visit.parts()) {
            entries.add(new String[] {"kind", part.kind(), "1"});
            part.terms().forEach(term -> add(entries, part.kind() + " ", term));
        }
        if (visit.group() != null) {
            entries.add(new String[] {"group", visit.group(), "1"});
        }
        return entries;
    }

    private static void add(List<String[]> entries, String prefix, Term term) {
        if (term instanceof Term.Level level) {
            entries.add(new String[] {prefix + level.factor(), level.level(), "1"});
        } else if (term instanceof Term.Number number) {
            entries.add(new String[] {prefix + number.factor(), "", Double.toString(number.value())});
        } else if (term instanceof Term.Finding finding) {
            String reported = finding.reported() == null ? "not known" : finding.reported();
            entries.add(new String[] {prefix + finding.factor(), reported, "1"});
        }
    }
}
