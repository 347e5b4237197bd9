package org.earslot.duration.predict;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.earslot.duration.Prediction.Item;
import org.earslot.duration.Prediction.ItemKind;
import org.earslot.duration.table.Names;
import org.earslot.minutes.Normal;
import org.jspecify.annotations.Nullable;

/**
 * The breakdown of an estimate into contributions.
 *
 * <p>The minutes of a {@link Location}: exp(u + w + h) (once + sum of E[part]). In each segment a factor's multiplier f
 * (for levels not known, its expectation) takes L ln f of the difference to the segment's reference x0, with L the
 * logarithmic mean (x - x0) / ln(x / x0); so the factors of a segment add up to x - x0 exactly. Group and person take
 * their share of (exp(u + w) - 1) in the same way, the group also what is its own in a kind or side. The last line is the
 * shown median less the location. A median of a mixture has no other unique split; taking factors one after another would
 * move a line by a factor of two.
 *
 * <p>Intervals: 10 % and 90 % points of each line over {@value #DRAWS} draws of the coefficients, the same draws always.
 */
final class WhyThisLong {

    static final int DRAWS = 200;

    /** Independent numbers in a draw; a breakdown over more columns takes them again from the first. */
    private static final int MOST_DRAWN = 256;

    private static final double[][] STANDARD = standard();

    private static double[][] standard() {
        SplittableRandom random = new SplittableRandom(20_261_125L);
        double[][] draws = new double[DRAWS][MOST_DRAWN];
        for (double[] draw : draws) {
            for (int i = 0; i < MOST_DRAWN; i++) {
                draw[i] = Normal.quantile(Math.max(1e-12, random.nextDouble()));
            }
        }
        return draws;
    }

    private final Layout layout;
    private final Posterior posterior;

    WhyThisLong(Layout layout, Posterior posterior) {
        this.layout = layout;
        this.posterior = posterior;
    }

    /**
     * The lines.
     *
     * @param median the median to be shown, in minutes
     */
    List<Item> items(Query asked, @Nullable String group, double median) {
        List<Item> labels = new ArrayList<>();
        double[] minutes =
                breakdown(asked, new Location(layout, posterior.beta()), block(asked), asked.personMean, labels, group);
        double[][] drawn = new double[minutes.length][DRAWS];
        Draws draws = new Draws(posterior, asked, layout);
        Location drawnFrom = new Location(layout, draws.beta);
        for (int d = 0; d < DRAWS; d++) {
            draws.next();
            double[] breakdown = breakdown(asked, drawnFrom, draws.block, draws.person, null, group);
            for (int line = 0; line < breakdown.length; line++) {
                drawn[line][d] = breakdown[line];
            }
        }
        List<Item> items = new ArrayList<>();
        double sum = 0;
        for (int line = 0; line < minutes.length; line++) {
            java.util.Arrays.sort(drawn[line]);
            Item label = labels.get(line);
            items.add(new Item(
                    label.kind(),
                    label.part(),
                    label.factor(),
                    label.level(),
                    minutes[line],
                    Math.min(minutes[line], drawn[line][DRAWS / 10]),
                    Math.max(minutes[line], drawn[line][DRAWS - 1 - DRAWS / 10])));
            sum += minutes[line];
        }
        double left = median - sum;
        items.add(new Item(ItemKind.UNKNOWN, "", "", "", left, left, left));
        return items;
    }

    private double[] block(Query asked) {
        return asked.group == Names.NONE
                ? new double[layout.blockWidth]
                : posterior.block()[asked.group];
    }

    private double[] breakdown(
            Query asked,
            Location location,
            double[] block,
            double person,
            @Nullable List<Item> labels,
            @Nullable String group) {
        Lines lines = new Lines(2 + 2 * asked.segments.size() + asked.entries() + 3);
        double sum = 0;
        double groupInside = 0;
        for (Query.Segment segment : asked.segments) {
            boolean once = segment.kindName.isEmpty();
            double reference = Math.exp(segment.unseenMean + (segment.unseen() ? 0 : location.base(segment.kind + 1)));
            double own = once || segment.unseen() ? 0 : location.inside(segment.kind, segment.side, 0, block);
            double[] logs = new double[segment.entries.size()];
            double total = own;
            for (int e = 0; e < logs.length; e++) {
                logs[e] = location.term(segment.entries.get(e));
                total += logs[e];
            }
            double late = once ? location.inside(Names.NONE, Names.NONE, asked.late, block) : 0;
            total += late;
            double perLog = perLog(reference, total);
            line(lines, labels, reference, once ? ItemKind.ONCE : ItemKind.PART, segment.part, "", segment.kindName);
            for (int e = 0; e < logs.length; e++) {
                Query.Entry entry = segment.entries.get(e);
                line(
                        lines,
                        labels,
                        perLog * logs[e],
                        ItemKind.FACTOR,
                        segment.part,
                        layout.vocabulary.factors.name(entry.factor()),
                        entry.label());
            }
            if (late != 0) {
                line(lines, labels, perLog * late, ItemKind.FACTOR, "", "lateness", "");
            }
            groupInside += perLog * own;
            sum += reference * Math.exp(total);
        }
        double hurried = location.latenessEffect(asked.late);
        double perLog = perLog(sum, location.beyond(asked.late, person, block));
        if (hurried != 0) {
            line(lines, labels, perLog * hurried, ItemKind.FACTOR, "", "hurry", "");
        }
        line(lines, labels, groupInside + perLog * block[0], ItemKind.GROUP, "", "", group == null ? "" : group);
        line(lines, labels, perLog * person, ItemKind.PERSON, "", "", "");
        return lines.all();
    }

    private static void line(
            Lines lines,
            @Nullable List<Item> labels,
            double minutes,
            ItemKind kind,
            String part,
            String factor,
            String level) {
        lines.add(minutes);
        if (labels != null) {
            labels.add(new Item(kind, part, factor, level, minutes, minutes, minutes));
        }
    }

    /** Minutes, line by line. */
    private static final class Lines {

        private final double[] minutes;
        private int count;

        Lines(int most) {
            minutes = new double[most];
        }

        void add(double line) {
            minutes[count++] = line;
        }

        double[] all() {
            return java.util.Arrays.copyOf(minutes, count);
        }
    }

    /** The logarithmic mean of x and x exp(log): minutes for each unit of logarithm. */
    private static double perLog(double x, double log) {
        return Math.abs(log) < 1e-9 ? x * (1 + log / 2) : x * Math.expm1(log) / log;
    }

    /** Draws of everything that the breakdown is made of; only the columns in hand are drawn, from their joint normal. */
    private static final class Draws {

        private final int[] columns;
        private final int blockWidth;
        private final double[] factor;
        private final double[] mean;
        private final double personSd;
        private final double personMean;
        private int draw;
        final double[] beta;
        final double[] block;
        double person;

        Draws(Posterior posterior, Query asked, Layout layout) {
            columns = columns(asked, layout);
            beta = posterior.beta().clone();
            block = asked.group == Names.NONE ? new double[layout.blockWidth] : posterior.block()[asked.group].clone();
            blockWidth = asked.group == Names.NONE ? 0 : layout.blockWidth;
            int n = columns.length + blockWidth;
            int width = layout.width;
            factor = new double[n * n];
            mean = new double[n];
            for (int i = 0; i < n; i++) {
                boolean inBlock = i >= columns.length;
                mean[i] = inBlock ? block[i - columns.length] : beta[columns[i]];
                for (int j = 0; j <= i; j++) {
                    double covariance;
                    if (!inBlock) {
                        covariance = posterior.covariance()[columns[i] * width + columns[j]];
                    } else if (j < columns.length) {
                        covariance = posterior.cross()[asked.group][columns[j] * blockWidth + i - columns.length];
                    } else {
                        covariance =
                                posterior.own()[asked.group][(i - columns.length) * blockWidth + j - columns.length];
                    }
                    factor[i * n + j] = covariance + (i == j ? 1e-12 : 0);
                }
            }
            Cholesky.factor(factor, n);
            for (int i = 0; i < n; i++) {
                if (factor[i * n + i] > 1e40) {
                    // No variance of its own is left in this column.
                    factor[i * n + i] = 0;
                }
            }
            personMean = asked.personMean;
            personSd = Math.sqrt(asked.personVariance);
        }

        private static int[] columns(Query asked, Layout layout) {
            java.util.TreeSet<Integer> set = new java.util.TreeSet<>();
            for (Query.Segment segment : asked.segments) {
                if (segment.kind != Names.NONE || segment.kindName.isEmpty()) {
                    set.add(layout.base[segment.kind + 1]);
                    if (layout.since[segment.kind + 1] != Layout.NONE) {
                        set.add(layout.since[segment.kind + 1]);
                    }
                }
                for (Query.Entry entry : segment.entries) {
                    for (int column : entry.columns()) {
                        if (column != Layout.NONE) {
                            set.add(column);
                        }
                    }
                }
            }
            return set.stream().mapToInt(Integer::intValue).toArray();
        }

        void next() {
            int n = mean.length;
            double[] z = STANDARD[draw++];
            for (int i = 0; i < n; i++) {
                double value = mean[i];
                for (int j = 0; j <= i; j++) {
                    value += factor[i * n + j] * z[j % MOST_DRAWN];
                }
                if (i < columns.length) {
                    beta[columns[i]] = value;
                } else {
                    block[i - columns.length] = value;
                }
            }
            person = personMean + personSd * z[n % MOST_DRAWN];
        }
    }
}
