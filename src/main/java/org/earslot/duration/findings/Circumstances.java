package org.earslot.duration.findings;

import java.util.Arrays;
import org.earslot.duration.past.PastVisits;
import org.earslot.duration.table.Names;
import org.earslot.duration.table.Vocabulary;

/**
 * All that may be known for certain of a part or of its visit, numbered: the certain levels of both, and the kind of part.
 * What is found depends on them: softened wax is softer, a hearing aid pushes it deeper.
 */
public final class Circumstances {

    /** Number 0: nothing was reported of the factor in question. */
    static final int SILENCE = 0;

    /** A factor with more levels than this is no circumstance. */
    private static final int MOST_LEVELS = 12;

    /** By factor: the number of its first level, or {@link Names#NONE}. */
    private final int[] first;

    private final int firstKind;

    /** The first number of each group of circumstances that exclude each other, and at the end how many there are. */
    final int[] groups;

    public Circumstances(Vocabulary vocabulary) {
        int factors = vocabulary.factors.size();
        first = new int[factors];
        int[] starts = new int[factors + 3];
        int count = 1;
        int group = 1;
        for (int factor = 0; factor < factors; factor++) {
            int levels = vocabulary.levels.get(factor).size();
            boolean fits = levels > 0
                    && levels <= MOST_LEVELS
                    && !vocabulary.factors.name(factor).equals(Vocabulary.SIDE);
            first[factor] = fits ? count : Names.NONE;
            if (fits) {
                starts[group++] = count;
                count += levels;
            }
        }
        firstKind = count;
        starts[group++] = count;
        count += vocabulary.kinds.size();
        starts[group++] = count;
        groups = Arrays.copyOf(starts, group);
    }

    int count() {
        return groups[groups.length - 1];
    }

    /** The number of a certain level, or {@link Names#NONE}. */
    public int of(int factor, int level) {
        return first[factor] == Names.NONE ? Names.NONE : first[factor] + level;
    }

    /** The number of a kind of part. */
    public int ofKind(int kind) {
        return firstKind + kind;
    }

    /** The circumstances of a segment of a past visit, into a buffer. */
    public void gather(PastVisits visits, int row, int segment, Buffer into) {
        into.count = 0;
        int once = visits.firstSegment[row];
        certain(visits, once, into);
        if (segment != once) {
            certain(visits, segment, into);
            into.add(ofKind(visits.kind[segment]));
        }
    }

    private void certain(PastVisits visits, int segment, Buffer into) {
        for (int t = visits.firstTerm[segment]; t < visits.firstTerm[segment + 1]; t++) {
            long term = visits.term[t];
            if (!PastVisits.isNumber(term) && PastVisits.isCertain(term)) {
                into.add(of(PastVisits.factorOf(term), PastVisits.foundOf(term)));
            }
        }
    }

    /** Numbers of circumstances; grows. */
    public static final class Buffer {

        int[] of = new int[16];
        public int count;

        public void add(int circumstance) {
            if (circumstance == Names.NONE) {
                return;
            }
            if (count == of.length) {
                of = Arrays.copyOf(of, 2 * count);
            }
            of[count++] = circumstance;
        }
    }
}
