package org.earslot.duration.predict;

import java.util.Arrays;
import org.earslot.duration.past.LastFindings;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.table.Names;

/**
 * What was found so far in each part of each person, by factor: the same ear remembered. Immutable.
 *
 * <p>A person has one cell for each part and factor of which something was found: {@code (part + 1) * factors + factor},
 * part {@link Names#NONE} being what is paid once, and beside it how often each level was found there, as
 * {@link LastFindings} packs it.
 *
 * @param factors how many factors there are
 * @param first by person: the first of their cells, and at the end how many cells there are
 * @param cell each person's together, in the order in which they were first found
 * @param found beside each cell
 */
public record PersonMemory(int factors, int[] first, int[] cell, long[] found) {

    /** Of all visits. */
    public static PersonMemory of(PastVisits visits) {
        int persons = visits.vocabulary.persons.size();
        int factors = visits.vocabulary.factors.size();
        int[] rows = visits.byPerson(visits.count);
        int[] first = new int[persons + 1];
        int[] cell = new int[16 + 2 * visits.count];
        long[] found = new long[cell.length];
        int row = 0;
        int end = 0;
        for (int who = 0; who < persons; who++) {
            for (; row < rows.length && visits.person[rows[row]] == who; row++) {
                int last = visits.firstSegment[rows[row] + 1];
                for (int s = visits.firstSegment[rows[row]]; s < last; s++) {
                    for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
                        long term = visits.term[t];
                        int level = PastVisits.foundOf(term);
                        if (PastVisits.isNumber(term) || PastVisits.isCertain(term) || level == Names.NONE) {
                            continue;
                        }
                        int own = (visits.name[s] + 1) * factors + PastVisits.factorOf(term);
                        int at = first[who];
                        while (at < end && cell[at] != own) {
                            at++;
                        }
                        if (at == end) {
                            if (end == cell.length) {
                                cell = Arrays.copyOf(cell, 2 * end);
                                found = Arrays.copyOf(found, 2 * end);
                            }
                            cell[end++] = own;
                        }
                        found[at] = LastFindings.same(found[at], level);
                    }
                }
            }
            first[who + 1] = end;
        }
        return new PersonMemory(factors, first, Arrays.copyOf(cell, end), Arrays.copyOf(found, end));
    }

    /**
     * What was found, in the same part and in other parts.
     *
     * @param who the person's number, or {@link Names#NONE}
     * @param part its number, or {@link Names#NONE} for one never seen
     * @param once whether it is what is paid once, of which other parts say nothing
     */
    long of(int who, int part, boolean once, int factor) {
        if (who == Names.NONE) {
            return LastFindings.NONE;
        }
        int ofOnce = factor;
        int own = once ? ofOnce : part == Names.NONE ? Names.NONE : (part + 1) * factors + factor;
        long same = LastFindings.NONE;
        long other = LastFindings.NONE;
        for (int at = first[who]; at < first[who + 1]; at++) {
            if (cell[at] == own) {
                same = found[at];
            } else if (!once && cell[at] != ofOnce && cell[at] % factors == factor) {
                other = LastFindings.sum(other, found[at]);
            }
        }
        return LastFindings.withOther(same, other);
    }
}
