package org.earslot.duration.judge;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.predict.ComfortStops;
import org.earslot.duration.predict.ValueOfInformation;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.LogStudentMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.minutes.StoppedMinutes;
import org.hipparchus.special.Erf;

/** A fitted {@link LogLinear}. */
final class LogLinearModel implements FittedModel {

    /** The 90 % point of the standard normal: R 4.2.2 qnorm(0.9). */
    private static final double NINETY = 1.2815515655446004;

    private final LogLinear.Columns columns;
    private final LeastSquares.Solution solution;
    private final double shape;
    private final double rate;
    private final ComfortStops stops;
    private final long visits;
    private final long stoppedEarly;

    LogLinearModel(
            LogLinear.Columns columns,
            LeastSquares.Solution solution,
            double shape,
            double rate,
            ComfortStops stops,
            long visits,
            long stoppedEarly) {
        this.columns = columns;
        this.solution = solution;
        this.shape = shape;
        this.rate = rate;
        this.stops = stops;
        this.visits = visits;
        this.stoppedEarly = stoppedEarly;
    }

    @Override
    public long visits() {
        return visits;
    }

    @Override
    public long stoppedEarly() {
        return stoppedEarly;
    }

    @Override
    public Prediction predict(VisitTerms visit) {
        return new Itemised(visit);
    }

    /** E[log T | log T > log]: where a visit stopped early is expected to have ended. */
    double raised(double[] x, double log) {
        double sd = Math.sqrt(rate / shape);
        double z = (log - dot(x)) / sd;
        double beyond = 0.5 * Erf.erfc(z / Math.sqrt(2));
        double density = Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI);
        double hazard = beyond > 1e-12 ? density / beyond : z;
        return Math.max(log, dot(x) + sd * hazard);
    }

    private double dot(double[] x) {
        double sum = 0;
        for (int j = 0; j < x.length; j++) {
            sum += x[j] * solution.coefficients()[j];
        }
        return sum;
    }

    private final class Itemised implements Prediction {

        private final VisitTerms visit;
        private final double[] x = new double[columns.width()];
        private final List<LogLinear.Spread> spreads;
        private final MinutesDistribution completion;

        Itemised(VisitTerms visit) {
            this.visit = visit;
            spreads = columns.fill(visit, false, x);
            double variance = rate / shape * (1 + solution.leverage(x)) + newGroupVariance();
            for (LogLinear.Spread spread : spreads) {
                variance += spread.weight() * spread.weight() * spread.moments(columns, solution.coefficients())[1];
            }
            completion = new LogStudentMinutes(dot(x), Math.sqrt(variance), 2 * shape);
        }

        /** Somebody not yet seen may be anywhere among the groups. */
        private double newGroupVariance() {
            int column = columns.column("group:" + visit.group());
            double size = columns.groupSize();
            return column >= 0 ? 0 : size * size;
        }

        @Override
        public MinutesDistribution completion() {
            return completion;
        }

        @Override
        public MinutesDistribution inRoom() {
            return new StoppedMinutes(completion, stops.hazard(visit));
        }

        @Override
        public double sharedSdLog() {
            int column = columns.column("group:" + visit.group());
            if (column < 0) {
                return columns.groupSize();
            }
            double[] alone = new double[columns.width()];
            alone[column] = 1;
            return Math.sqrt(rate / shape * solution.leverage(alone));
        }

        @Override
        public List<Item> why() {
            double[] bare = new double[columns.width()];
            bare[columns.column("1")] = 1;
            double start = dot(bare);
            double whole = dot(x);
            double perLog = Math.abs(whole - start) < 1e-12
                    ? Math.exp(whole)
                    : (Math.exp(whole) - Math.exp(start)) / (whole - start);
            List<Item> items = new ArrayList<>();
            items.add(item(ItemKind.ONCE, "", "", "", bare, Math.exp(start), Math.exp(start)));
            double[] parts = new double[columns.width()];
            double[] group = new double[columns.width()];
            double[] rest = x.clone();
            rest[columns.column("1")] = 0;
            for (String name : columns.names()) {
                int column = columns.column(name);
                if (name.startsWith("kind:") || name.equals("parts")) {
                    move(rest, parts, column);
                } else if (name.startsWith("group:")) {
                    move(rest, group, column);
                }
            }
            if (!visit.parts().isEmpty()) {
                items.add(item(ItemKind.PART, "", "", visit.parts().get(0).kind(), parts, dot(parts) * perLog, perLog));
            }
            for (LogLinear.Spread spread : spreads) {
                double[] own = new double[columns.width()];
                for (int level = 0; level < spread.names().size(); level++) {
                    int column = columns.column("level:" + spread.term().factor() + ":"
                            + spread.names().get(level));
                    if (column >= 0) {
                        own[column] = spread.weight() * spread.shares()[level];
                        rest[column] -= own[column];
                    }
                }
                items.add(item(
                        ItemKind.FACTOR,
                        spread.part(),
                        spread.term().factor(),
                        spread.label(),
                        own,
                        dot(own) * perLog,
                        perLog));
            }
            if (visit.group() != null) {
                items.add(item(ItemKind.GROUP, "", "", visit.group(), group, dot(group) * perLog, perLog));
            }
            double listed = items.stream().mapToDouble(Item::minutes).sum();
            double left = completion.quantile(0.5) - listed;
            items.add(new Item(ItemKind.UNKNOWN, "", "", "", left, left, left));
            return items;
        }

        private void move(double[] from, double[] to, int column) {
            to[column] = from[column];
            from[column] = 0;
        }

        private Item item(
                ItemKind kind, String part, String factor, String level, double[] own, double minutes, double perLog) {
            double half = NINETY * perLog * Math.sqrt(rate / shape * solution.leverage(own));
            return new Item(kind, part, factor, level, minutes, minutes - half, minutes + half);
        }

        @Override
        public List<Question> ask() {
            return ValueOfInformation.questions(
                    visit, completion, LogLinearModel.this::predict, columns::table, columns::levels);
        }
    }
}
