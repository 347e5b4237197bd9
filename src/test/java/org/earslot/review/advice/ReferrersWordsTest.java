package org.earslot.review.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.earslot.estimate.ModelReport;
import org.earslot.review.figures.Change;
import org.earslot.review.figures.Share;
import org.junit.jupiter.api.Test;

class ReferrersWordsTest {

    /** Reports of hard wax, so many of which were hard, the others soft. */
    private static ModelReport.Table hard(long reports, double right) {
        return new ModelReport.Table(
                "wax",
                List.of("soft", "hard"),
                List.of(new ModelReport.Row("hard", reports, List.of(1 - right, right))));
    }

    private static ModelReport learnt(ModelReport.Referrer... referrers) {
        return new ModelReport(
                List.of(), List.of(), List.of(), List.of(hard(1_000, 0.6)), List.of(referrers), List.of(), null, null);
    }

    private static ModelReport.Referrer referrer(String name, long reports, double right) {
        return new ModelReport.Referrer(name, List.of(hard(reports, right)));
    }

    @Test
    void says_who_stands_out_and_draws_few_reports_to_the_usual_share() {
        List<ReferrerLine> lines = ReferrersWords.of(
                learnt(referrer("A", 200, 0.8), referrer("B", 100, 0.4), referrer("C", 30, 0.7), referrer("D", 5, 1)));
        assertThat(lines).extracting(ReferrerLine::referrer).containsExactly("A", "B", "C", "D");
        assertThat(lines)
                .extracting(ReferrerLine::word)
                .containsExactly(
                        Change.Verdict.MORE, Change.Verdict.LESS, Change.Verdict.NOT_CLEAR, Change.Verdict.NOT_KNOWN);
        assertThat(lines.get(0).asReported()).isEqualTo(new Share(160, 200));
        // (160 + 20 * 0.6) / 220 and (5 + 12) / 25.
        assertThat(lines.get(0).likely()).isCloseTo(172.0 / 220, within(1e-12));
        assertThat(lines.get(3).likely()).isCloseTo(0.68, within(1e-12));
    }

    @Test
    void says_nothing_where_nobody_reported() {
        assertThat(ReferrersWords.of(learnt())).isEmpty();
    }
}
