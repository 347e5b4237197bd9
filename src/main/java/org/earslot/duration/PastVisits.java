package org.earslot.duration;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * The rows of a table as flat arrays: what a fit runs on. A visit is a row of segments: what is paid once, then each
 * part; a segment is a run of terms.
 */
final class PastVisits {

    // A term in one long: 2 bits what it is, then factor (14 bits), found, reported (16 bits each, plus one), 16 bits
    // free.
    private static final int LEVEL_BITS = 16;
    private static final long LEVEL_MASK = (1 << LEVEL_BITS) - 1;
    private static final int FACTOR_SHIFT = 3 * LEVEL_BITS;
    private static final long FACTOR_MASK = (1 << 14) - 1;
    private static final long NUMBER = 1L << 62;

    /** Rows from which work is shared between threads. */
    private static final int MANY = 5000;

    final Vocabulary vocabulary;

    int count;
    long[] day = new long[16];
    long[] print = new long[16];
    double[] log = new double[16];
    double[] weight = new double[16];
    double[] late = new double[16];
    Ending[] ending = new Ending[16];
    int[] group = new int[16];
    int[] person = new int[16];
    int[] source = new int[16];
    int[] firstSegment = new int[17];

    int segments;
    int[] kind = new int[32];
    int[] name = new int[32];
    int[] firstTerm = new int[33];

    int terms;
    long[] term = new long[64];
    private long[] recollections = {};
    private int numbers;
    private double[] number = new double[16];

    /** Rows in the order of their days, see {@link RowOrder}. */
    int[] order = {};

    /** Whether anybody was called in late. */
    boolean late0;

    final Map<Integer, double[]> numberSums = new HashMap<>();

    private final boolean changes;

    private PastVisits(Vocabulary vocabulary, boolean changes) {
        this.vocabulary = vocabulary;
        this.changes = changes;
    }

    /** Reads the rows once. */
    static PastVisits of(Iterable<VisitRow> rows, Vocabulary vocabulary) {
        PastVisits visits = new PastVisits(vocabulary, vocabulary.factors.find(Vocabulary.CHANGE) != Names.NONE);
        for (VisitRow row : rows) {
            visits.add(row);
        }
        visits.settle();
        return visits;
    }

    private void add(VisitRow row) {
        VisitTerms visit = row.terms();
        if (count == day.length) {
            grow();
        }
        int i = count++;
        day[i] = visit.day();
        log[i] = Math.log(row.minutes());
        weight[i] = row.weight();
        late[i] = visit.lateness();
        ending[i] = row.ending();
        group[i] = vocabulary.groups.number(visit.group());
        person[i] = vocabulary.persons.number(visit.person());
        source[i] = vocabulary.sources.number(visit.source());
        // Minutes are compared themselves, after this, so that no unit of time shows in the order.
        long hash = row.ending().ordinal() + 1;
        hash = mix(hash, hashOf(visit.group()));
        hash = mix(hash, hashOf(visit.person()));
        late0 |= visit.lateness() > 0;
        addSegment(Names.NONE, Names.NONE, visit.once(), null);
        hash = mix(hash, termsHash);
        for (Part part : visit.parts()) {
            addSegment(vocabulary.kinds.number(part.kind()), vocabulary.parts.number(part.name()), part.terms(), part);
            hash = mix(hash, part.kind().hashCode());
            hash = mix(hash, termsHash);
        }
        print[i] = hash;
        firstSegment[count] = segments;
    }

    private long termsHash;

    private void addSegment(int ofKind, int ofName, java.util.List<Term> of, @Nullable Part part) {
        if (segments == kind.length) {
            kind = Arrays.copyOf(kind, 2 * segments);
            name = Arrays.copyOf(name, 2 * segments);
            firstTerm = Arrays.copyOf(firstTerm, 2 * segments + 1);
        }
        kind[segments] = ofKind;
        name[segments] = ofName;
        termsHash = 7;
        for (Term each : of) {
            addTerm(each);
        }
        if (part != null && changes) {
            int factor = vocabulary.factor(Vocabulary.CHANGE);
            String change = Vocabulary.change(part);
            push(pack(factor, vocabulary.level(factor, change), Names.NONE));
            termsHash = mix(termsHash, hashOf(change));
        }
        segments++;
        firstTerm[segments] = terms;
    }

    private void addTerm(Term each) {
        int factor = vocabulary.factor(each.factor());
        if (factor > FACTOR_MASK) {
            throw new IllegalArgumentException("more than " + FACTOR_MASK + " factors; give fewer");
        }
        if (each instanceof Term.Number value) {
            if (numbers == number.length) {
                number = Arrays.copyOf(number, 2 * numbers);
            }
            number[numbers] = value.value();
            push(NUMBER | (long) factor << FACTOR_SHIFT | numbers++);
            double[] sums = numberSums.computeIfAbsent(factor, any -> new double[3]);
            sums[0]++;
            sums[1] += value.value();
            sums[2] += value.value() * value.value();
            termsHash = mix(termsHash, Double.hashCode(value.value()));
            return;
        }
        int found = Names.NONE;
        int reported = Names.NONE;
        if (each instanceof Term.Level level) {
            found = vocabulary.level(factor, level.level());
            termsHash = mix(termsHash, level.level().hashCode());
            // A certain level is no report that was checked: it says nothing on how good reports are.
            push(pack(factor, found, found) | 1L << 63);
            return;
        } else if (each instanceof Term.Finding finding) {
            found = vocabulary.level(factor, finding.found());
            reported = vocabulary.level(factor, finding.reported());
            termsHash = mix(mix(termsHash, hashOf(finding.found())), hashOf(finding.reported()));
        } else if (each instanceof Term.Mixture mixture) {
            for (String level : mixture.shares().keySet()) {
                vocabulary.level(factor, level);
            }
        }
        push(pack(factor, found, reported));
    }

    private static int hashOf(@Nullable String name) {
        return name == null ? 0 : name.hashCode();
    }

    static long mix(long hash, long more) {
        return (hash ^ more) * 0x9E3779B97F4A7C15L + (hash >>> 29);
    }

    private void push(long packed) {
        if (terms == term.length) {
            term = Arrays.copyOf(term, 2 * terms);
        }
        term[terms++] = packed;
    }

    private void grow() {
        int size = 2 * count;
        day = Arrays.copyOf(day, size);
        print = Arrays.copyOf(print, size);
        log = Arrays.copyOf(log, size);
        weight = Arrays.copyOf(weight, size);
        late = Arrays.copyOf(late, size);
        ending = Arrays.copyOf(ending, size);
        group = Arrays.copyOf(group, size);
        person = Arrays.copyOf(person, size);
        source = Arrays.copyOf(source, size);
        firstSegment = Arrays.copyOf(firstSegment, size + 1);
    }

    private static long pack(int factor, int found, int reported) {
        if (found >= LEVEL_MASK || reported >= LEVEL_MASK) {
            throw new IllegalArgumentException("a factor has more than " + LEVEL_MASK + " levels; give fewer");
        }
        return (long) factor << FACTOR_SHIFT
                | (long) (found + 1) << 2 * LEVEL_BITS
                | (long) (reported + 1) << LEVEL_BITS;
    }

    /** Whether a term is a number. */
    static boolean isNumber(long packed) {
        return (packed & NUMBER) != 0;
    }

    /** Whether a term was certain beforehand. */
    static boolean isCertain(long packed) {
        return packed < 0;
    }

    static int factorOf(long packed) {
        return (int) (packed >>> FACTOR_SHIFT & FACTOR_MASK);
    }

    static int foundOf(long packed) {
        return (int) (packed >>> 2 * LEVEL_BITS & LEVEL_MASK) - 1;
    }

    static int reportedOf(long packed) {
        return (int) (packed >>> LEVEL_BITS & LEVEL_MASK) - 1;
    }

    /** What was found of this term's factor in earlier visits of the same person. */
    long recollection(int at) {
        return recollections.length == 0 ? Recollection.NONE : recollections[at];
    }

    double numberOf(long packed) {
        return number[(int) (packed & 0xFFFFFFFFL)];
    }

    /** Puts names and rows into their order, and remembers what was found last time. */
    private void settle() {
        Vocabulary.Moves moves = vocabulary.sort();
        move(group, count, moves.groups());
        move(source, count, moves.sources());
        move(kind, segments, moves.kinds());
        move(name, segments, moves.parts());
        for (int t = 0; t < terms; t++) {
            term[t] = moved(term[t], moves);
        }
        Map<Integer, double[]> sums = new HashMap<>();
        numberSums.forEach((factor, sum) -> sums.put(moves.factors()[factor], sum));
        numberSums.clear();
        numberSums.putAll(sums);
        order = RowOrder.of(day, print, log, count);
        numberPersons();
        remember();
    }

    /** Numbers persons as they come in time, so that neighbours in time are neighbours in a pass by person. */
    private void numberPersons() {
        int[] moves = new int[vocabulary.persons.size()];
        Arrays.fill(moves, Names.NONE);
        int next = 0;
        for (int row : order) {
            int who = person[row];
            if (who != Names.NONE && moves[who] == Names.NONE) {
                moves[who] = next++;
            }
        }
        move(person, count, moves);
        vocabulary.persons.renumber(moves);
    }

    private static void move(int[] numbers, int length, int[] moves) {
        for (int i = 0; i < length; i++) {
            numbers[i] = numbers[i] == Names.NONE ? Names.NONE : moves[numbers[i]];
        }
    }

    private static long moved(long packed, Vocabulary.Moves moves) {
        int factor = factorOf(packed);
        if (isNumber(packed)) {
            return NUMBER | (long) moves.factors()[factor] << FACTOR_SHIFT | packed & 0xFFFFFFFFL;
        }
        int found = foundOf(packed);
        int reported = reportedOf(packed);
        int[] levels = moves.levels()[factor];
        long result = pack(
                moves.factors()[factor],
                found == Names.NONE ? Names.NONE : levels[found],
                reported == Names.NONE ? Names.NONE : levels[reported]);
        return isCertain(packed) ? result | 1L << 63 : result;
    }

    /** The first {@code upTo} rows in time, by person; those of nobody known last; each person's in order of time. */
    int[] byPerson(int upTo) {
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
                Arrays.fill(found, Recollection.NONE);
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
                    if (other != part && found[at + other] != Recollection.NONE) {
                        all = Recollection.withOther(all, found[at + other]);
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
                    found[at] = Recollection.same(found[at], level);
                }
            }
        }
    }
}
