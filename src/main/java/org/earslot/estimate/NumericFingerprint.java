package org.earslot.estimate;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import org.apache.commons.codec.digest.DigestUtils;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.predict.ModelCodec;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;

/**
 * The mark of how this release computes: what it learns from a small built-in table (one ear and both, returning persons,
 * unknown findings, visits stopped early), to seven digits, and the form of its models, as a hash. A release that would make
 * another model of the same visits has another mark, without anybody having to remember to change it.
 */
final class NumericFingerprint {

    private static final int VISITS = 60;
    private static final String[] WAX = {"soft", "firm", "hard"};
    private static final String[] METHODS = {"microsuction", "irrigation"};

    private static final String MARK = made();

    private NumericFingerprint() {}

    /** Twelve hexadecimal digits. */
    static String mark() {
        return MARK;
    }

    private static String made() {
        FittedModel model = OncePlusParts.with(FitChoices.PRIORS).fit(table());
        StringBuilder said = new StringBuilder("form ").append(ModelCodec.FORM);
        for (String method : METHODS) {
            for (String wax : WAX) {
                Prediction prediction = model.predict(visit(method, Term.reported(Factors.WAX, wax), said.length()));
                say(said, prediction.sharedSdLog());
                for (double probability : new double[] {0.5, 0.9}) {
                    say(said, prediction.completion().quantile(probability));
                    say(said, prediction.inRoom().quantile(probability));
                }
                prediction.why().forEach(item -> say(said, item.high()));
            }
        }
        byte[] hash = DigestUtils.getSha256Digest().digest(said.toString().getBytes(StandardCharsets.UTF_8));
        return HexFormat.of().formatHex(hash).substring(0, 12);
    }

    private static void say(StringBuilder said, double number) {
        said.append(String.format(Locale.ROOT, " %.6e", number));
    }

    private static List<VisitRow> table() {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < VISITS; i++) {
            int wax = i * 7 % WAX.length;
            String method = METHODS[i * 5 % 3 % METHODS.length];
            Term found = Term.found(Factors.WAX, i % 2 == 0 ? null : WAX[wax], i % 8 == 0 ? null : WAX[wax]);
            double minutes = 9 + 3 * wax + i * 11 % 8;
            rows.add(visit(method, found, i).took(minutes, i % 9 == 0 ? Ending.STOPPED_FOR_COMFORT : Ending.COMPLETED));
        }
        return rows;
    }

    private static VisitTerms visit(String method, Term term, int number) {
        return new VisitTerms(
                List.of(Term.level(Factors.FIRST_VISIT, number % 4 == 0 ? "yes" : "no")),
                number % 3 == 0
                        ? List.of(Part.planned("right", method, term), Part.planned("left", method, term))
                        : List.of(Part.planned("right", method, term)),
                "P" + number % 3,
                "K" + number % 40,
                "F" + number % 5,
                number / 6,
                number % 5);
    }
}
