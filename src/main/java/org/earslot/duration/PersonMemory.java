package org.earslot.duration;

import java.util.Arrays;

/** What was found last in each part of each person, by factor: the same ear remembered. */
final class PersonMemory {

    private final Names parts;

    /** By person: slot (part x factors + factor) and level, in turn, by slot. */
    private final int[][] found;

    private final int factors;

    /** How many levels each factor has. */
    private final int[] levels;

    private PersonMemory(Names parts, int[] levels, int[][] found) {
        this.parts = parts;
        factors = levels.length;
        this.levels = levels;
        this.found = found;
    }

    /** All findings of the past, the last of each kept. */
    static PersonMemory of(PastVisits visits) {
        int factors = visits.vocabulary.factors.size();
        int persons = visits.vocabulary.persons.size();
        int[] sizes = new int[factors];
        for (int factor = 0; factor < factors; factor++) {
            sizes[factor] = visits.vocabulary.levels.get(factor).size();
        }
        int[][] found = new int[persons][];
        int[] rows = visits.byPerson(visits.count);
        int[] slots = new int[64];
        int[] levels = new int[64];
        int i = 0;
        while (i < rows.length && visits.person[rows[i]] != Names.NONE) {
            int who = visits.person[rows[i]];
            int count = 0;
            for (; i < rows.length && visits.person[rows[i]] == who; i++) {
                for (int s = visits.firstSegment[rows[i]]; s < visits.firstSegment[rows[i] + 1]; s++) {
                    for (int t = visits.firstTerm[s]; t < visits.firstTerm[s + 1]; t++) {
                        long term = visits.term[t];
                        if (PastVisits.isNumber(term)
                                || PastVisits.isCertain(term)
                                || PastVisits.foundOf(term) == Names.NONE) {
                            continue;
                        }
                        int slot = (visits.name[s] + 1) * factors + PastVisits.factorOf(term);
                        int at = 0;
                        while (at < count && slots[at] != slot) {
                            at++;
                        }
                        if (at == slots.length) {
                            slots = Arrays.copyOf(slots, 2 * at);
                            levels = Arrays.copyOf(levels, 2 * at);
                        }
                        slots[at] = slot;
                        levels[at] = PastVisits.foundOf(term);
                        count = Math.max(count, at + 1);
                    }
                }
            }
            int[] pairs = new int[2 * count];
            for (int at = 0; at < count; at++) {
                pairs[2 * at] = slots[at];
                pairs[2 * at + 1] = levels[at];
            }
            found[who] = pairs;
        }
        return new PersonMemory(visits.vocabulary.parts, sizes, found);
    }

    /** The level found last, or {@link Names#NONE}. @param who the person's number, or {@link Names#NONE} */
    int last(int who, String part, int factor) {
        if (who == Names.NONE || found[who] == null) {
            return Names.NONE;
        }
        int name = part.isEmpty() ? Names.NONE : parts.find(part);
        int slot = name == Names.NONE && !part.isEmpty() ? Integer.MAX_VALUE : (name + 1) * factors + factor;
        int[] pairs = found[who];
        int elsewhere = Names.NONE;
        for (int at = 0; at < pairs.length; at += 2) {
            if (pairs[at] == slot) {
                return pairs[at + 1];
            }
            if (pairs[at] % factors == factor && pairs[at] >= factors) {
                elsewhere = pairs[at + 1];
            }
        }
        // Another part's level is told apart by being moved up by the number of levels.
        return elsewhere == Names.NONE || part.isEmpty() ? Names.NONE : elsewhere + levels[factor];
    }
}
