package org.earslot.duration;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;

/**
 * A large invented table for measuring speed: 30 practitioners, 400 visits a day, 5 % stopped early, half of the findings
 * reported. Full: half of the persons seen before, and a finding in 25 not written down. Plain: nobody known, and all that
 * was found written down, which is all that a regression can make use of. Equal terms are one object, as when a log is
 * read.
 */
public final class BenchTable {

    private static final int PRACTITIONERS = 30;
    private static final double STOPPED_EARLY = 0.05;
    private static final String[] METHODS = {"microsuction", "irrigation", "manual_removal"};
    private static final double[] EAR_MINUTES = {5, 6, 7};
    private static final String[][] LEVELS = {
        {"soft", "loose", "sticky", "firm", "hard"},
        {"average", "wide", "narrow", "very_narrow"},
        {"outer_third", "deep_canal", "against_drum"}
    };
    private static final String[] FACTORS = {"wax", "canal", "depth"};

    private final boolean plain;
    private final SplittableRandom random;
    private final double[] paces = new double[PRACTITIONERS];
    private final Map<String, Part> parts = new HashMap<>();
    private final Map<String, List<Term>> once = new HashMap<>();
    private double work;

    private BenchTable(boolean plain, long seed) {
        this.plain = plain;
        random = new SplittableRandom(seed);
        for (int i = 0; i < paces.length; i++) {
            paces[i] = 0.15 * random.nextGaussian();
        }
    }

    /** So many visits, persons and missing findings and all. */
    public static List<VisitRow> full(int count, long seed) {
        return rows(false, count, seed);
    }

    /** So many visits of nobody known, with all findings. */
    public static List<VisitRow> plain(int count, long seed) {
        return rows(true, count, seed);
    }

    private static List<VisitRow> rows(boolean plain, int count, long seed) {
        BenchTable table = new BenchTable(plain, seed);
        List<VisitRow> rows = new ArrayList<>(count);
        for (int i = 0; i < count; i++) {
            rows.add(table.row(i, count));
        }
        return rows;
    }

    private VisitRow row(int number, int count) {
        int method = random.nextInt(METHODS.length);
        boolean first = random.nextInt(3) == 0;
        boolean aid = random.nextInt(4) == 0;
        work = first ? 7 : 5;
        List<Part> treated = new ArrayList<>(2);
        int which = random.nextInt(4);
        if (which != 1) {
            treated.add(part("right", method));
        }
        if (which != 0) {
            treated.add(part("left", method));
        }
        int practitioner = random.nextInt(PRACTITIONERS);
        double minutes = work * Math.exp(paces[practitioner] + 0.33 * random.nextGaussian());
        boolean cut = random.nextDouble() < STOPPED_EARLY;
        VisitTerms terms = new VisitTerms(
                once.computeIfAbsent(first + "," + aid, any -> once(first, aid)),
                List.copyOf(treated),
                "P" + practitioner,
                plain ? null : "K" + random.nextInt(1 + count / 2),
                "F" + random.nextInt(40),
                number / 400,
                random.nextInt(3) == 0 ? random.nextInt(20) : 0);
        return terms.took(
                Math.min(180, cut ? minutes * random.nextDouble(0.4, 1) : minutes),
                cut ? Ending.STOPPED_FOR_COMFORT : Ending.COMPLETED);
    }

    private static List<Term> once(boolean first, boolean aid) {
        return List.of(Term.level("first_visit", first ? "yes" : "no"), Term.level("hearing_aid", aid ? "yes" : "no"));
    }

    private Part part(String ear, int method) {
        double minutes = EAR_MINUTES[method];
        int[] found = new int[FACTORS.length];
        int[] reported = new int[FACTORS.length];
        for (int f = 0; f < FACTORS.length; f++) {
            int levels = LEVELS[f].length;
            int level = random.nextInt(levels);
            minutes *= Math.exp(0.11 * level);
            found[f] = !plain && random.nextInt(25) == 0 ? -1 : level;
            reported[f] = random.nextInt(2) == 0 ? -1 : random.nextInt(5) == 0 ? random.nextInt(levels) : level;
        }
        work += minutes;
        String key = ear + method + java.util.Arrays.toString(found) + java.util.Arrays.toString(reported);
        return parts.computeIfAbsent(key, any -> part(ear, method, found, reported));
    }

    private static Part part(String ear, int method, int[] found, int[] reported) {
        List<Term> terms = new ArrayList<>();
        for (int f = 0; f < FACTORS.length; f++) {
            terms.add(Term.found(FACTORS[f], level(f, reported[f]), level(f, found[f])));
        }
        terms.add(Term.level("side", ear));
        return new Part(ear, METHODS[method], List.of(METHODS[method]), terms);
    }

    private static @org.jspecify.annotations.Nullable String level(int factor, int at) {
        return at < 0 ? null : LEVELS[factor][at];
    }

    /** A visit of both ears of which nothing was reported. */
    public static VisitTerms bothEarsUnknown() {
        List<Part> parts = new ArrayList<>();
        for (String ear : List.of("right", "left")) {
            parts.add(Part.planned(
                    ear,
                    METHODS[0],
                    Term.unknown("wax"),
                    Term.unknown("canal"),
                    Term.unknown("depth"),
                    Term.level("side", ear)));
        }
        return new VisitTerms(
                List.of(Term.unknown("first_visit"), Term.unknown("hearing_aid")), parts, "P1", null, null, 9_999, 0);
    }

    /** The table as a log-linear regression sees it: one line a visit, findings of the ear treated first. */
    public static void write(List<VisitRow> rows, Path file) throws IOException {
        try (BufferedWriter out = Files.newBufferedWriter(file)) {
            out.write("minutes,completed,practitioner,method,ears,first,aid,wax,canal,depth\n");
            for (VisitRow row : rows) {
                Part part = row.terms().parts().get(0);
                StringBuilder line = new StringBuilder();
                line.append(String.format(Locale.ROOT, "%.6f,%d", row.minutes(), row.stoppedEarly() ? 0 : 1));
                line.append(',').append(row.terms().group()).append(',').append(part.kind());
                line.append(",n").append(row.terms().parts().size());
                row.terms().once().forEach(term -> line.append(',').append(((Term.Level) term).level()));
                part.terms().stream().limit(FACTORS.length).forEach(term -> {
                    String found = ((Term.Finding) term).found();
                    line.append(',').append(found == null ? "unknown" : found);
                });
                out.write(line.append('\n').toString());
            }
        }
    }
}
