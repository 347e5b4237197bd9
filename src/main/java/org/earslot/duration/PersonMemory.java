package org.earslot.duration;

import java.util.Arrays;

/** What was found last in each part of each person, by factor: the same ear remembered. */
final class PersonMemory {

    private final Names parts;

    /** By person: slot (part x factors + factor) and level, in turn, by slot. */
    private final int[][] found;

    private final int factors;

    private PersonMemory(Names parts, int factors, int[][] found) {
        this.parts = parts;
        this.factors = factors;
        this.found = found;
    }

    /** All findings of the past, the last of each kept. */
    static PersonMemory of(PastVisits visits) {
        int factors = visits.vocabulary.factors.size();
        int persons = visits.vocabulary.persons.size();
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
        return new PersonMemory(visits.vocabulary.parts, factors, found);
    }

    /** The level found last, or {@link Names#NONE}. @param who the person's number, or {@link Names#NONE} */
    int last(int who, String part, int factor) {
        if (who == Names.NONE || found[who] == null) {
            return Names.NONE;
        }
        int name = part.isEmpty() ? Names.NONE : parts.find(part);
        if (name == Names.NONE && !part.isEmpty()) {
            return Names.NONE;
        }
        int slot = (name + 1) * factors + factor;
        int[] pairs = found[who];
        for (int at = 0; at < pairs.length; at += 2) {
            if (pairs[at] == slot) {
                return pairs[at + 1];
            }
        }
        return Names.NONE;
    }
}
