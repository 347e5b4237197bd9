package org.earslot.duration.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LogLinearTest {

    /**
     * exp(mean log + t(p; n-1) s sqrt(1 + 1/n)) at mean log 0, s 0.35. Form: Zhou and Dexter, as printed in
     * Anesthesiology 91(2):590, 1999; exp(qt(p, n - 1) * 0.35 * sqrt(1 + 1/n)):
     * reference/distributions.R, in the order of its line student.bounds.
     */
    @ParameterizedTest
    @CsvSource({"3, 0.8, 0", "5, 0.8, 1", "10, 0.8, 2", "20, 0.9, 3"})
    void boundsAFewCasesLikeStudent(int n, double probability, int at) {
        double bound = Reference.of("distributions").values("student.bounds")[at];
        List<VisitRow> rows = new ArrayList<>();
        for (double log : logsWithMeanZero(n, 0.35)) {
            rows.add(VisitTerms.of(List.of(), List.of(), null).took(Math.exp(log), Ending.COMPLETED));
        }
        MinutesDistribution time = LogLinear.flat()
                .fit(rows)
                .predict(VisitTerms.of(List.of(), List.of(), null))
                .completion();
        assertThat(time.quantile(probability)).isCloseTo(bound, within(1e-10 * bound));
    }

    @Test
    void isUsableAndWideWithoutAnyVisit() {
        FittedModel model = LogLinear.with(Priors.earCare()).fit(List.of());
        MinutesDistribution time = model.predict(anEar("microsuction")).completion();
        assertThat(time.quantile(0.5)).isBetween(5.0, 20.0);
        assertThat(time.quantile(0.9) / time.quantile(0.1)).isBetween(2.5, 12.0);
    }

    @Test
    void listsItemsThatAddUpToTheMedian() {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 40; i++) {
            rows.add(anEar(i % 2 == 0 ? "microsuction" : "manual_removal").took(10 + i % 7, Ending.COMPLETED));
        }
        Prediction prediction = LogLinear.with(Priors.earCare()).fit(rows).predict(anEar("manual_removal"));
        double sum =
                prediction.why().stream().mapToDouble(Prediction.Item::minutes).sum();
        assertThat(sum).isCloseTo(prediction.completion().quantile(0.5), within(1e-9));
    }

    @Test
    void asksForTheFindingThatNarrowsMost() {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 200; i++) {
            String wax = i % 2 == 0 ? "soft" : "hard";
            double minutes = (i % 2 == 0 ? 8 : 20) + i % 3;
            rows.add(VisitTerms.of(
                            List.of(),
                            List.of(Part.planned(
                                    "right", "microsuction", Term.found("wax", i % 4 < 2 ? wax : null, wax))),
                            "P1")
                    .took(minutes, Ending.COMPLETED));
        }
        Prediction prediction = LogLinear.with(Priors.earCare()).fit(rows).predict(anEar("microsuction"));
        assertThat(prediction.ask()).hasSize(1);
        assertThat(prediction.ask().get(0).savesMinutes()).isGreaterThan(0.3);
    }

    private static VisitTerms anEar(String method) {
        return VisitTerms.of(List.of(), List.of(Part.planned("right", method, Term.unknown("wax"))), "P1");
    }

    /** n numbers with mean 0 and standard deviation sd (divisor n - 1). */
    private static double[] logsWithMeanZero(int n, double sd) {
        double[] logs = new double[n];
        double sum = 0;
        for (int i = 0; i < n; i++) {
            logs[i] = i - (n - 1) / 2.0;
            sum += logs[i] * logs[i];
        }
        double scale = sd / Math.sqrt(sum / (n - 1));
        for (int i = 0; i < n; i++) {
            logs[i] *= scale;
        }
        return logs;
    }
}
