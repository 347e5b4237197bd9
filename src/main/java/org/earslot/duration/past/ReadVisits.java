package org.earslot.duration.past;

import java.util.Arrays;
import java.util.List;
import java.util.RandomAccess;
import java.util.stream.Stream;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.duration.table.Vocabulary;
import org.jspecify.annotations.Nullable;

/**
 * Rows of a table read into flat arrays, long tables in two halves at once: names are numbered as they come, then in their
 * alphabetical order but for the persons'.
 */
final class ReadVisits {

    /** Rows from which a table is read in halves. */
    static final int MANY = 20_000;

    final Vocabulary vocabulary;

    int count;
    long[] day = new long[16];
    /** By row: a hash of its terms and ending. Names of groups, persons and sources are not in it, nor are minutes. */
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
    int numbers;
    double[] number = new double[16];

    /** Whether anybody was called in late. */
    boolean late0;

    private final boolean changes;

    private ReadVisits(Vocabulary vocabulary) {
        this.vocabulary = vocabulary;
        changes = vocabulary.factors.find(Vocabulary.CHANGE) != Names.NONE;
    }

    /**
     * Reads the rows once.
     *
     * @param vocabulary names known beforehand; takes in those of the rows
     */
    static ReadVisits of(Iterable<VisitRow> rows, Vocabulary vocabulary) {
        if (rows instanceof List<VisitRow> list && list instanceof RandomAccess && list.size() >= MANY) {
            return inHalves(list, vocabulary);
        }
        ReadVisits read = new ReadVisits(vocabulary);
        rows.forEach(read::add);
        read.move(vocabulary.sort(), 0);
        return read;
    }

    private static ReadVisits inHalves(List<VisitRow> rows, Vocabulary vocabulary) {
        int middle = rows.size() / 2;
        ReadVisits first = new ReadVisits(vocabulary);
        ReadVisits second = new ReadVisits(vocabulary.copy());
        both(
                () -> rows.subList(0, middle).forEach(first::add),
                () -> rows.subList(middle, rows.size()).forEach(second::add));
        Vocabulary.Moves taken = vocabulary.takeIn(second.vocabulary);
        Vocabulary.Moves sorted = vocabulary.sort();
        both(() -> first.move(sorted, 0), () -> second.move(taken.then(sorted), first.numbers));
        first.append(second);
        return first;
    }

    private static void both(Runnable one, Runnable other) {
        Stream.of(one, other).parallel().forEach(Runnable::run);
    }

    /**
     * Gives everything its new number.
     *
     * @param before numbers that stand before these
     */
    private void move(Vocabulary.Moves moves, int before) {
        move(group, count, moves.groups());
        move(source, count, moves.sources());
        move(kind, segments, moves.kinds());
        move(name, segments, moves.parts());
        if (moves.persons().length > 0) {
            move(person, count, moves.persons());
        }
        for (int t = 0; t < terms; t++) {
            term[t] = PastVisits.moved(term[t], moves, before);
        }
    }

    /** @param moves new numbers by old ones */
    static void move(int[] numbers, int length, int[] moves) {
        for (int i = 0; i < length; i++) {
            numbers[i] = numbers[i] == Names.NONE ? Names.NONE : moves[numbers[i]];
        }
    }

    /** Rows read elsewhere, after these; numbered alike. */
    private void append(ReadVisits other) {
        for (int i = 0; i <= other.count; i++) {
            other.firstSegment[i] += segments;
        }
        for (int s = 0; s <= other.segments; s++) {
            other.firstTerm[s] += terms;
        }
        // The largest first, and let go at once: a million visits fit into a small heap.
        term = joined(term, terms, other.term, other.terms);
        other.term = new long[0];
        day = joined(day, count, other.day, other.count);
        print = joined(print, count, other.print, other.count);
        log = joined(log, count, other.log, other.count);
        weight = joined(weight, count, other.weight, other.count);
        late = joined(late, count, other.late, other.count);
        ending = Arrays.copyOf(ending, count + other.count);
        System.arraycopy(other.ending, 0, ending, count, other.count);
        group = joined(group, count, other.group, other.count);
        person = joined(person, count, other.person, other.count);
        source = joined(source, count, other.source, other.count);
        firstSegment = joined(firstSegment, count, other.firstSegment, other.count + 1);
        kind = joined(kind, segments, other.kind, other.segments);
        name = joined(name, segments, other.name, other.segments);
        firstTerm = joined(firstTerm, segments, other.firstTerm, other.segments + 1);
        number = joined(number, numbers, other.number, other.numbers);
        count += other.count;
        segments += other.segments;
        terms += other.terms;
        numbers += other.numbers;
        late0 |= other.late0;
    }

    private static int[] joined(int[] first, int length, int[] second, int more) {
        int[] both = Arrays.copyOf(first, length + more);
        System.arraycopy(second, 0, both, length, more);
        return both;
    }

    private static long[] joined(long[] first, int length, long[] second, int more) {
        long[] both = Arrays.copyOf(first, length + more);
        System.arraycopy(second, 0, both, length, more);
        return both;
    }

    private static double[] joined(double[] first, int length, double[] second, int more) {
        double[] both = Arrays.copyOf(first, length + more);
        System.arraycopy(second, 0, both, length, more);
        return both;
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
        long hash = row.ending().ordinal() + 1;
        late0 |= visit.lateness() > 0;
        addSegment(Names.NONE, Names.NONE, visit.once(), null);
        hash = RowOrder.mix(hash, termsHash);
        for (Part part : visit.parts()) {
            addSegment(vocabulary.kinds.number(part.kind()), vocabulary.parts.number(part.name()), part.terms(), part);
            hash = RowOrder.mix(hash, part.kind().hashCode());
            hash = RowOrder.mix(hash, termsHash);
        }
        print[i] = hash;
        firstSegment[count] = segments;
    }

    private long termsHash;

    private void addSegment(int ofKind, int ofName, List<Term> of, @Nullable Part part) {
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
            push(PastVisits.pack(factor, vocabulary.level(factor, change), Names.NONE));
            termsHash = RowOrder.mix(termsHash, hashOf(change));
        }
        segments++;
        firstTerm[segments] = terms;
    }

    private void addTerm(Term each) {
        int factor = vocabulary.factor(each.factor());
        if (factor > PastVisits.FACTOR_MASK) {
            throw new IllegalArgumentException("more than " + PastVisits.FACTOR_MASK + " factors; give fewer");
        }
        if (each instanceof Term.Number value) {
            if (numbers == number.length) {
                number = Arrays.copyOf(number, 2 * numbers);
            }
            number[numbers] = value.value();
            push(PastVisits.numbered(factor, numbers++));
            termsHash = RowOrder.mix(termsHash, Double.hashCode(value.value()));
            return;
        }
        int found = Names.NONE;
        int reported = Names.NONE;
        if (each instanceof Term.Level level) {
            found = vocabulary.level(factor, level.level());
            termsHash = RowOrder.mix(termsHash, level.level().hashCode());
            // A certain level is no report that was checked: it says nothing on how good reports are.
            push(PastVisits.certainly(PastVisits.pack(factor, found, found)));
            return;
        } else if (each instanceof Term.Finding finding) {
            found = vocabulary.level(factor, finding.found());
            reported = vocabulary.level(factor, finding.reported());
            termsHash = RowOrder.mix(RowOrder.mix(termsHash, hashOf(finding.found())), hashOf(finding.reported()));
        } else if (each instanceof Term.Mixture mixture) {
            for (String level : mixture.shares().keySet()) {
                vocabulary.level(factor, level);
            }
        }
        push(PastVisits.pack(factor, found, reported));
    }

    private static int hashOf(@Nullable String name) {
        return name == null ? 0 : name.hashCode();
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
}
