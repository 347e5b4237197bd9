package org.earslot.review.web;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.review.figures.Change;
import org.earslot.review.figures.Comparison;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.Trend;
import org.earslot.review.figures.Unit;
import org.jspecify.annotations.Nullable;

/**
 * A figure's line over the last months as it is drawn, and how the last month compares with the one before.
 *
 * @param verdict a {@link Change.Verdict}'s code
 * @param path the line, in a field of {@link #WIDTH} by {@link #HEIGHT}; broken where a month is not known
 * @param months how many are known
 * @param lowest of them, with its unit; empty without any
 * @param highest of them, with its unit; empty without any
 */
record TrendLine(String verdict, String path, double endX, double endY, int months, String lowest, String highest) {

    static final int WIDTH = 140;
    static final int HEIGHT = 36;

    /** Room for the mark of the last month. */
    private static final double MARGIN = 4;

    /** By the figure's name; a figure of which no months are stored, as in a month closed earlier, has no line. */
    static Map<String, TrendLine> of(MonthReview review) {
        Map<String, Trend> trends =
                review.trends().stream().collect(Collectors.toMap(Trend::figure, Function.identity()));
        return review.compared().get(0).lines().stream()
                .collect(Collectors.toMap(
                        Comparison.Line::figure,
                        line -> of(line, trends.getOrDefault(line.figure(), new Trend(line.figure(), List.of())))));
    }

    private static TrendLine of(Comparison.Line line, Trend trend) {
        List<@Nullable Double> values = trend.months();
        List<Double> known = values.stream().filter(Objects::nonNull).toList();
        double low = known.stream().mapToDouble(Double::doubleValue).min().orElse(0);
        double high = known.stream().mapToDouble(Double::doubleValue).max().orElse(0);
        StringBuilder path = new StringBuilder();
        double x = 0;
        double y = 0;
        boolean broken = true;
        for (int i = 0; i < values.size(); i++) {
            Double value = values.get(i);
            if (value != null) {
                x = MARGIN + i * (WIDTH - 2 * MARGIN) / (Trend.MONTHS - 1);
                y = HEIGHT - MARGIN - (high == low ? 0.5 : (value - low) / (high - low)) * (HEIGHT - 2 * MARGIN);
                path.append(String.format(Locale.ROOT, "%s%.1f %.1f", broken ? "M" : "L", x, y));
            }
            broken = value == null;
        }
        return new TrendLine(
                line.change().verdict().code(),
                path.toString(),
                x,
                y,
                known.size(),
                known.isEmpty() ? "" : written(line.unit(), low),
                known.isEmpty() ? "" : written(line.unit(), high));
    }

    private static String written(Unit unit, double value) {
        return unit == Unit.IN_HUNDRED
                ? String.format(Locale.ROOT, "%.0f %%", value * 100)
                : String.format(Locale.ROOT, "%.1f", value);
    }

    /** One month alone makes no line. */
    public boolean drawn() {
        return months > 1;
    }
}
