package org.earslot.duration;

import java.util.Arrays;

/** What was found so far in each part of each person, by factor: the same ear remembered. */
final class PersonMemory {

    private static final int[] NOBODY = {};

    private final Names parts;
    private final int factors;

    /** By person: slot (part x factors + factor), and how often each level was found there, in turn. */
    private final int[][] found;

    private PersonMemory(Names parts, int factors, int[][] found) {
        this.parts = parts;
        this.factors = factors;
        this.found = found;
    }

    /** All findings of the past. */
    static PersonMemory of(PastVisits visits) {
        int factors = visits.vocabulary.factors.size();
        int[][] found = new int[visits.vocabulary.persons.size()][];
        Arrays.fill(found, NOBODY);
        int[] rows = visits.byPerson(visits.count);
        int[] pairs = new int[64];
        int i = 0;
        while (i < rows.length && visits.person[rows[i]] != Names.NONE) {
            int who = visits.person[rows[i]];
            int length = 0;
            for (; i < rows.length && visits.person[rows[i]] == who; i++) {
                int row = rows[i];
                for (int s = visits.firstSegment[row]; s < visits.firstSegment[row + 1]; s++) {
                    for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
                        long term = visits.term[t];
                        int level = PastVisits.foundOf(term);
                        if (PastVisits.isNumber(term) || PastVisits.isCertain(term) || level == Names.NONE) {
                            continue;
                        }
                        int slot = (visits.name[s] + 1) * factors + PastVisits.factorOf(term);
                        int at = 0;
                        while (at < length && pairs[at] != slot) {
                            at += 2;
                        }
                        if (at == length) {
                            pairs = at + 2 > pairs.length ? Arrays.copyOf(pairs, 2 * pairs.length) : pairs;
                            pairs[at] = slot;
                            pairs[at + 1] = 0;
                            length += 2;
                        }
                        pairs[at + 1] = (int) Recollection.same(pairs[at + 1] & 0xFFFFFFFFL, level);
                    }
                }
            }
            found[who] = Arrays.copyOf(pairs, length);
        }
        return new PersonMemory(visits.vocabulary.parts, factors, found);
    }

    /** What was found. @param who the person's number, or {@link Names#NONE} @param part "" for what is paid once */
    long of(int who, String part, int factor) {
        long all = Recollection.NONE;
        if (who == Names.NONE) {
            return all;
        }
        int own = part.isEmpty() ? 0 : parts.find(part) + 1;
        int[] pairs = found[who];
        for (int at = 0; at < pairs.length; at += 2) {
            int of = pairs[at] / factors;
            long counts = pairs[at + 1] & 0xFFFFFFFFL;
            boolean same = of == own && (part.isEmpty() || own > 0);
            if (pairs[at] % factors != factor || !same && (part.isEmpty() || of == 0)) {
                continue;
            }
            for (int level = 0; level < Recollection.MOST_LEVELS; level++) {
                int times = Recollection.inSame(counts, level);
                for (int each = 0; same && each < times; each++) {
                    all = Recollection.same(all, level);
                }
                all = same ? all : Recollection.elsewhere(all, level, times);
            }
        }
        return all;
    }
}
