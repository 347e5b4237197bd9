package org.earslot.duration.past;

import java.util.Arrays;
import java.util.List;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.Vocabulary;

/**
 * The order that past visits are gone through in: by day, and within a day in one that looks like chance but follows from
 * what the rows say alone. Neither the order of the table nor the unit of time shows in it, nor are rows of one day that say
 * the same in the order of their minutes: forecasts one step ahead would see the short ones first.
 *
 * <p>Nor does it matter what groups, persons and sources are called: each is told from the others by the visits it has. A
 * hash of these stands for its name; where that leaves rows alike, their minutes decide, and at last a hash with the minutes
 * of all visits of the same group, person and source.
 */
public final class RowOrder {

    /** Fewer rows than this are sorted where they stand. */
    private static final int FEW = 40;

    private final long[] day;
    private final long[] print;
    private final double[] log;
    private final long[] last;

    private RowOrder(long[] day, long[] print, double[] log, long[] last) {
        this.day = day;
        this.print = print;
        this.log = log;
        this.last = last;
    }

    /**
     * These rows in order.
     *
     * @param priors they name what is a term of every part
     */
    public static List<VisitRow> inOrder(List<VisitRow> rows, Priors priors) {
        ReadVisits read = ReadVisits.of(rows, Vocabulary.of(priors));
        return Arrays.stream(of(read)).mapToObj(rows::get).toList();
    }

    /** The rows of a table in order. */
    static int[] of(ReadVisits read) {
        int count = read.count;
        long first = Arrays.stream(read.day, 0, count).min().orElse(0);
        long[] said = new long[count];
        for (int i = 0; i < count; i++) {
            said[i] = mix(read.print[i], read.day[i] - first);
        }
        long[] print = withThoseOf(read, read.print, said);
        for (int i = 0; i < count; i++) {
            long took = mix(print[i], Double.doubleToLongBits(read.log[i]));
            said[i] = mix(mix(took, Double.doubleToLongBits(read.late[i])), Double.doubleToLongBits(read.weight[i]));
        }
        return of(read.day, print, read.log, withThoseOf(read, said, said), count);
    }

    /** Each row's hash with what is said of all rows of its group, its person and its source, in whatever order. */
    private static long[] withThoseOf(ReadVisits read, long[] own, long[] said) {
        long[] with = Arrays.copyOf(own, read.count);
        mixIn(with, read.group, read.vocabulary.groups.size(), said);
        mixIn(with, read.person, read.vocabulary.persons.size(), said);
        mixIn(with, read.source, read.vocabulary.sources.size(), said);
        return with;
    }

    private static void mixIn(long[] with, int[] of, int names, long[] said) {
        long[] sums = new long[names + 1];
        for (int i = 0; i < with.length; i++) {
            sums[of[i] + 1] += of[i] == Names.NONE ? 0 : said[i];
        }
        for (int i = 0; i < with.length; i++) {
            with[i] = mix(with[i], sums[of[i] + 1]);
        }
    }

    /**
     * The first {@code count} rows in order.
     *
     * @param print a hash of all that a row says but its minutes
     * @param log logarithms of the minutes
     * @param last decides between rows alike in all of these
     */
    static int[] of(long[] day, long[] print, double[] log, long[] last, int count) {
        return new RowOrder(day, print.clone(), log, last).sorted(count);
    }

    private int[] sorted(int count) {
        int[] rows = new int[count];
        if (count == 0) {
            return rows;
        }
        long first = Long.MAX_VALUE;
        long last = Long.MIN_VALUE;
        for (int i = 0; i < count; i++) {
            first = Math.min(first, day[i]);
            last = Math.max(last, day[i]);
        }
        long span = last - first;
        if (span >= 0 && span < 4L * count + 1000) {
            countByDay(rows, first, (int) span);
        } else {
            Integer[] boxed = new Integer[count];
            Arrays.setAll(boxed, i -> i);
            Arrays.sort(boxed, (a, b) -> Long.compare(day[a], day[b]));
            Arrays.setAll(rows, i -> boxed[i]);
        }
        for (int from = 0; from < count; ) {
            int to = from + 1;
            while (to < count && day[rows[to]] == day[rows[from]]) {
                to++;
            }
            scatter(rows, from, to);
            from = to;
        }
        return rows;
    }

    /** Where the days are dense they are counted rather than compared. */
    private void countByDay(int[] rows, long first, int span) {
        int[] start = new int[span + 2];
        for (int i = 0; i < rows.length; i++) {
            start[(int) (day[i] - first) + 1]++;
        }
        for (int d = 0; d <= span; d++) {
            start[d + 1] += start[d];
        }
        for (int i = 0; i < rows.length; i++) {
            rows[start[(int) (day[i] - first)]++] = i;
        }
    }

    /** A hash of one thing more. */
    static long mix(long hash, long more) {
        return (hash ^ more) * 0x9E3779B97F4A7C15L + (hash >>> 29);
    }

    /** Sorts a day by print; of those with one print the shortest keeps it, the others get new ones by their rank. */
    private void scatter(int[] rows, int from, int to) {
        sort(rows, from, to);
        boolean moved = false;
        int run = from;
        long shared = print[rows[from]];
        for (int i = from + 1; i < to; i++) {
            if (print[rows[i]] == shared) {
                print[rows[i]] = mix(shared, i - run);
                moved = true;
            } else {
                run = i;
                shared = print[rows[i]];
            }
        }
        if (moved) {
            sort(rows, from, to);
        }
    }

    private int compare(int a, int b) {
        int byPrint = Long.compare(print[a], print[b]);
        int byMinutes = byPrint != 0 ? byPrint : Double.compare(log[a], log[b]);
        return byMinutes != 0 ? byMinutes : Long.compare(last[a], last[b]);
    }

    private void sort(int[] rows, int from, int to) {
        if (to - from >= FEW) {
            Integer[] boxed = new Integer[to - from];
            Arrays.setAll(boxed, i -> rows[from + i]);
            Arrays.sort(boxed, this::compare);
            for (int i = 0; i < boxed.length; i++) {
                rows[from + i] = boxed[i];
            }
            return;
        }
        for (int i = from + 1; i < to; i++) {
            int row = rows[i];
            int j = i - 1;
            while (j >= from && compare(rows[j], row) > 0) {
                rows[j + 1] = rows[j];
                j--;
            }
            rows[j + 1] = row;
        }
    }
}
