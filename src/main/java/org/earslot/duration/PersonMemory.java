package org.earslot.duration;

import org.earslot.duration.table.Names;

/** What was found so far in each part of each person, by factor: the same ear remembered. Looked up where it is asked. */
final class PersonMemory {

    private final PastVisits visits;
    private final int[] rows;

    /** By person: the first of their rows, and at the end how many rows there are of persons known. */
    private final int[] first;

    /** Of all visits. */
    PersonMemory(PastVisits visits) {
        this.visits = visits;
        rows = visits.byPerson(visits.count);
        int persons = visits.vocabulary.persons.size();
        first = new int[persons + 1];
        for (int row = 0; row < visits.count; row++) {
            if (visits.person[row] != Names.NONE) {
                first[visits.person[row] + 1]++;
            }
        }
        for (int who = 0; who < persons; who++) {
            first[who + 1] += first[who];
        }
    }

    /** What was found. @param who the person's number, or {@link Names#NONE} @param part "" for what is paid once */
    long of(int who, String part, int factor) {
        if (who == Names.NONE) {
            return LastFindings.NONE;
        }
        int own = part.isEmpty() ? Names.NONE : visits.vocabulary.parts.find(part);
        boolean never = own == Names.NONE && !part.isEmpty();
        long same = LastFindings.NONE;
        long other = LastFindings.NONE;
        for (int i = first[who]; i < first[who + 1]; i++) {
            int row = rows[i];
            for (int s = visits.firstSegment[row]; s < visits.firstSegment[row + 1]; s++) {
                int level = found(s, factor);
                if (level == Names.NONE) {
                    continue;
                }
                if (visits.name[s] == own && !never) {
                    same = LastFindings.same(same, level);
                } else if (visits.name[s] != Names.NONE && !part.isEmpty()) {
                    other = LastFindings.same(other, level);
                }
            }
        }
        return LastFindings.withOther(same, other);
    }

    private int found(int segment, int factor) {
        for (int t = visits.firstTerm[segment]; t < visits.firstTerm[segment + 1]; t++) {
            long term = visits.term[t];
            if (!PastVisits.isNumber(term) && !PastVisits.isCertain(term) && PastVisits.factorOf(term) == factor) {
                return PastVisits.foundOf(term);
            }
        }
        return Names.NONE;
    }
}
