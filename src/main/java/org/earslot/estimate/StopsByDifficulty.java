package org.earslot.estimate;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.fit.InformativeStops;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;

/**
 * How far the minutes would move if visits stopped for comfort or safety were harder than they looked: the sensitivity to
 * informative stopping, see {@link InformativeStops}.
 *
 * @param visits the latest so many were fitted
 * @param stopped those of them stopped for comfort or safety
 * @param lines by method and ears; empty where nobody was stopped
 */
public record StopsByDifficulty(long visits, long stopped, List<Line> lines) {

    /** How much likelier a stop is tried to be for each standard deviation of unseen difficulty, as a logarithm. */
    public static final List<Double> GAMMAS = List.of(0.0, 0.5, 1.0);

    /** More of the latest visits than this would tell no more, and take as long as the fit itself. */
    static final int MOST = 20_000;

    /** Nothing known. */
    static final StopsByDifficulty NONE = new StopsByDifficulty(0, 0, List.of());

    public StopsByDifficulty {
        lines = List.copyOf(lines);
    }

    /**
     * A visit of which nothing else is known.
     *
     * @param half minutes within which half are done, by gamma
     * @param most minutes within which 4 in 5 are done, by gamma
     */
    public record Line(String method, int ears, long visits, List<Double> half, List<Double> most) {}

    /**
     * Tries it on the latest of these rows.
     *
     * @param kinds what to tell the minutes of
     */
    static StopsByDifficulty of(List<VisitRow> rows, List<ModelReport.Kind> kinds) {
        List<VisitRow> latest = rows.subList(Math.max(0, rows.size() - MOST), rows.size());
        long stopped = latest.stream()
                .filter(row -> row.ending() == Ending.STOPPED_FOR_COMFORT)
                .count();
        if (stopped == 0) {
            return new StopsByDifficulty(latest.size(), 0, List.of());
        }
        List<FittedModel> models = InformativeStops.fits(latest, Priors.earCare(), GAMMAS);
        List<Line> lines = kinds.stream().map(kind -> line(kind, models)).toList();
        return new StopsByDifficulty(latest.size(), stopped, lines);
    }

    private static Line line(ModelReport.Kind kind, List<FittedModel> models) {
        VisitTerms plain = plain(kind.method(), kind.ears());
        List<Double> half = new ArrayList<>();
        List<Double> most = new ArrayList<>();
        for (FittedModel model : models) {
            Prediction prediction = model.predict(plain);
            half.add(ModelReport.rounded(prediction.completion().quantile(0.5)));
            most.add(ModelReport.rounded(prediction.completion().quantile(0.8)));
        }
        return new Line(kind.method(), kind.ears(), kind.visits(), half, most);
    }

    /** A visit of which only method and number of ears are known. */
    static VisitTerms plain(String method, int ears) {
        List<Part> parts = new ArrayList<>();
        for (String ear : List.of("right", "left").subList(0, ears)) {
            parts.add(Part.planned(
                    ear, method, Term.unknown(Factors.WAX), Term.unknown(Factors.CANAL), Term.unknown(Factors.DEPTH)));
        }
        return VisitTerms.of(List.of(), parts, null);
    }
}
