package org.earslot.duration;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;

/** Tables of invented visits for tests of properties: seeded, of no clinic's shape. */
public final class RandomTables {

    private static final String[] KINDS = {"irrigation", "microsuction", "manual_removal"};
    private static final String[] WAX = {"loose", "soft", "sticky", "firm", "hard"};
    private static final String[] CANAL = {"wide", "average", "narrow", "very_narrow"};

    private RandomTables() {}

    /** So many visits, forty a day, some stopped early, some findings not written down. */
    public static List<VisitRow> rows(int count, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            int kind = random.nextInt(3);
            List<Part> parts = new ArrayList<>();
            double ears = 0;
            for (String ear : random.nextInt(2) == 0 ? List.of("right") : List.of("right", "left")) {
                int wax = random.nextInt(5);
                int canal = random.nextInt(4);
                ears += (4 + kind) * (1 + 0.15 * wax) * (1 + 0.1 * canal);
                String said = random.nextInt(2) == 0 ? null : WAX[random.nextInt(3) == 0 ? random.nextInt(5) : wax];
                String seen = random.nextInt(12) == 0 ? null : WAX[wax];
                parts.add(new Part(
                        ear,
                        KINDS[kind],
                        random.nextInt(4) == 0 ? List.of() : List.of(KINDS[kind]),
                        List.of(Term.found("wax", said, seen), Term.found("canal", null, CANAL[canal]))));
            }
            boolean first = random.nextInt(3) == 0;
            int group = random.nextInt(4);
            double minutes = ((first ? 7 : 5) + ears) * Math.exp(0.3 * random.nextGaussian() + 0.1 * group);
            boolean cut = random.nextInt(20) == 0;
            VisitTerms visit = new VisitTerms(
                    List.of(Term.level("first_visit", first ? "yes" : "no")),
                    parts,
                    "P" + group,
                    "K" + random.nextInt(1 + count / 2),
                    "R" + random.nextInt(5),
                    i / 40,
                    random.nextInt(3) * 6);
            rows.add(visit.took(
                    cut ? minutes * random.nextDouble(0.3, 1) : minutes,
                    cut ? Ending.STOPPED_FOR_COMFORT : Ending.COMPLETED));
        }
        return rows;
    }

    /** A visit of one ear by suction of which nothing is known. */
    public static VisitTerms asked() {
        return VisitTerms.of(
                List.of(Term.level("first_visit", "no")),
                List.of(Part.planned("right", "microsuction", Term.unknown("wax"), Term.unknown("canal"))),
                "P1");
    }
}
