package org.earslot.duration.past;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.Vocabulary;

/**
 * The rows of a table as flat arrays: what a fit runs on. A visit is a row of segments: what is paid once, then each
 * part; a segment is a run of terms.
 */
public final class PastVisits {

    // A term in one long: 2 bits what it is, then factor (14 bits), found, reported (16 bits each, plus one), 16 bits
    // free.
    private static final int LEVEL_BITS = 16;
    private static final long LEVEL_MASK = (1 << LEVEL_BITS) - 1;
    private static final int FACTOR_SHIFT = 3 * LEVEL_BITS;
    static final long FACTOR_MASK = (1 << 14) - 1;
    private static final long NUMBER = 1L << 62;

    /** Rows from which work is shared between threads. */
    private static final int MANY = 5000;

    public final Vocabulary vocabulary;

    public final int count;
    public final long[] day;
    public final double[] log;
    public final double[] weight;
    public final double[] late;
    public final Ending[] ending;
    public final int[] group;
    public final int[] person;
    public final int[] source;
    public final int[] firstSegment;

    public final int segments;
    public final int[] kind;
    public final int[] name;
    public final int[] firstTerm;

    public final int terms;
    public final long[] term;
    private long[] recollections = {};
    private final double[] number;

    /** Rows in the order of their days, see {@link RowOrder}. */
    public final int[] order;

    /** Whether anybody was called in late. */
    public final boolean late0;

    /** Whether any term is a number. */
    public final boolean withNumbers;

    /** Puts the rows into their order, and remembers what was found last time. */
    private PastVisits(ReadVisits read) {
        vocabulary = read.vocabulary;
        count = read.count;
        day = read.day;
        log = read.log;
        weight = read.weight;
        late = read.late;
        ending = read.ending;
        group = read.group;
        person = read.person;
        source = read.source;
        firstSegment = read.firstSegment;
        segments = read.segments;
        kind = read.kind;
        name = read.name;
        firstTerm = read.firstTerm;
        terms = read.terms;
        term = read.term;
        number = read.number;
        late0 = read.late0;
        withNumbers = read.numbers > 0;
        order = RowOrder.of(read);
        numberAsTheyCome(group, vocabulary.groups);
        numberAsTheyCome(person, vocabulary.persons);
        numberAsTheyCome(source, vocabulary.sources);
        remember();
    }

    /** Reads the rows once. */
    public static PastVisits of(Iterable<VisitRow> rows, Vocabulary vocabulary) {
        return new PastVisits(ReadVisits.of(rows, vocabulary));
    }

    static long pack(int factor, int found, int reported) {
        if (found >= LEVEL_MASK || reported >= LEVEL_MASK) {
            throw new IllegalArgumentException("a factor has more than " + LEVEL_MASK + " levels; give fewer");
        }
        return (long) factor << FACTOR_SHIFT
                | (long) (found + 1) << 2 * LEVEL_BITS
                | (long) (reported + 1) << LEVEL_BITS;
    }

    /**
     * A number as a term.
     *
     * @param at its place among the numbers
     */
    static long numbered(int factor, int at) {
        return NUMBER | (long) factor << FACTOR_SHIFT | at;
    }

    /** A level that was certain beforehand. */
    static long certainly(long packed) {
        return packed | 1L << 63;
    }

    /** Whether a term is a number. */
    public static boolean isNumber(long packed) {
        return (packed & NUMBER) != 0;
    }

    /** Whether a term was certain beforehand. */
    public static boolean isCertain(long packed) {
        return packed < 0;
    }

    public static int factorOf(long packed) {
        return (int) (packed >>> FACTOR_SHIFT & FACTOR_MASK);
    }

    public static int foundOf(long packed) {
        return (int) (packed >>> 2 * LEVEL_BITS & LEVEL_MASK) - 1;
    }

    public static int reportedOf(long packed) {
        return (int) (packed >>> LEVEL_BITS & LEVEL_MASK) - 1;
    }

    /** What was found of this term's factor in earlier visits of the same person. */
    public long recollection(int at) {
        return recollections.length == 0 ? LastFindings.NONE : recollections[at];
    }

    public double numberOf(long packed) {
        return number[(int) (packed & 0xFFFFFFFFL)];
    }

    /**
     * Numbers names as they come in time, so that what somebody is called changes nothing, and neighbours in time are
     * neighbours in a pass by person.
     */
    private void numberAsTheyCome(int[] of, Names names) {
        int[] moves = new int[names.size()];
        Arrays.fill(moves, Names.NONE);
        int next = 0;
        for (int row : order) {
            if (of[row] != Names.NONE && moves[of[row]] == Names.NONE) {
                moves[of[row]] = next++;
            }
        }
        ReadVisits.move(of, count, moves);
        names.renumber(moves);
    }

    /** By factor: how many numbers, their sum, the sum of their squares. */
    public double[][] numberSums() {
        double[][] sums = new double[vocabulary.factors.size()][3];
        for (int i = 0; withNumbers && i < count; i++) {
            int last = firstTerm[firstSegment[order[i] + 1]];
            for (int t = firstTerm[firstSegment[order[i]]]; t < last; t++) {
                if (isNumber(term[t])) {
                    double value = numberOf(term[t]);
                    double[] of = sums[factorOf(term[t])];
                    of[0]++;
                    of[1] += value;
                    of[2] += value * value;
                }
            }
        }
        return sums;
    }

    /**
     * A term with new numbers.
     *
     * @param before numbers that stand before the term's own
     */
    static long moved(long packed, Vocabulary.Moves moves, int before) {
        int factor = factorOf(packed);
        if (isNumber(packed)) {
            return numbered(moves.factors()[factor], before + (int) (packed & 0xFFFFFFFFL));
        }
        int found = foundOf(packed);
        int reported = reportedOf(packed);
        int[] levels = moves.levels()[factor];
        long result = pack(
                moves.factors()[factor],
                found == Names.NONE ? Names.NONE : levels[found],
                reported == Names.NONE ? Names.NONE : levels[reported]);
        return isCertain(packed) ? certainly(result) : result;
    }

    /** The first {@code upTo} rows in time, by person; those of nobody known last; each person's in order of time. */
    public int[] byPerson(int upTo) {
        int persons = vocabulary.persons.size();
        int[] start = new int[persons + 2];
        for (int i = 0; i < upTo; i++) {
            int who = person[order[i]];
            start[(who == Names.NONE ? persons : who) + 1]++;
        }
        for (int who = 0; who <= persons; who++) {
            start[who + 1] += start[who];
        }
        int[] rows = new int[upTo];
        for (int i = 0; i < upTo; i++) {
            int who = person[order[i]];
            rows[start[who == Names.NONE ? persons : who]++] = order[i];
        }
        return rows;
    }

    /** Keeps beside each term what was found of it on earlier days of the same person; nothing if nobody came twice. */
    private void remember() {
        int[] rows = byPerson(count);
        boolean twice = false;
        for (int i = 1; i < count && !twice; i++) {
            twice = person[rows[i]] != Names.NONE && person[rows[i]] == person[rows[i - 1]];
        }
        if (!twice) {
            return;
        }
        recollections = new long[terms];
        // No two persons share a term, so that the halves keep out of each other's way.
        int middle = count / 2;
        while (middle < count && person[rows[middle]] == person[rows[Math.max(0, middle - 1)]]) {
            middle++;
        }
        int[] bounds = {0, middle, count};
        IntStream halves = IntStream.range(0, 2);
        (count < MANY ? halves : halves.parallel()).forEach(half -> remember(rows, bounds[half], bounds[half + 1]));
    }

    private void remember(int[] rows, int first, int end) {
        int parts = vocabulary.parts.size() + 1;
        long[] found = new long[vocabulary.factors.size() * parts];
        int from = first;
        while (from < end && person[rows[from]] != Names.NONE) {
            int to = from + 1;
            while (to < end && person[rows[to]] == person[rows[from]]) {
                to++;
            }
            if (to - from > 1) {
                remember(rows, from, to, parts, found);
                Arrays.fill(found, LastFindings.NONE);
            }
            from = to;
        }
    }

    /** One person's visits, day by day. */
    private void remember(int[] rows, int from, int to, int parts, long[] found) {
        int first = from;
        while (first < to) {
            int next = first;
            while (next < to && day[rows[next]] == day[rows[first]]) {
                recall(rows[next++], parts, found);
            }
            for (int i = first; i < next; i++) {
                keep(rows[i], parts, found);
            }
            first = next;
        }
    }

    private void recall(int row, int parts, long[] found) {
        for (int s = firstSegment[row]; s < firstSegment[row + 1]; s++) {
            int part = name[s] + 1;
            for (int t = firstTerm[s]; t < firstTerm[s + 1]; t++) {
                if (isNumber(term[t]) || isCertain(term[t])) {
                    continue;
                }
                int at = factorOf(term[t]) * parts;
                long all = found[at + part];
                for (int other = 1; other < parts && part > 0; other++) {
                    if (other != part && found[at + other] != LastFindings.NONE) {
                        all = LastFindings.withOther(all, found[at + other]);
                    }
                }
                recollections[t] = all;
            }
        }
    }

    private void keep(int row, int parts, long[] found) {
        for (int s = firstSegment[row]; s < firstSegment[row + 1]; s++) {
            for (int t = firstTerm[s]; t < firstTerm[s + 1]; t++) {
                int level = foundOf(term[t]);
                if (!isNumber(term[t]) && !isCertain(term[t]) && level != Names.NONE) {
                    int at = factorOf(term[t]) * parts + name[s] + 1;
                    found[at] = LastFindings.same(found[at], level);
                }
            }
        }
    }
}
