package org.earslot.duration.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.earslot.duration.FittedModel;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.MinutesDistribution;
import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;

class BaselinesTest {

    private static final VisitTerms ONE = VisitTerms.of(List.of(), List.of(Part.planned("right", "suction")), null);
    private static final VisitTerms TWO =
            VisitTerms.of(List.of(), List.of(Part.planned("right", "suction"), Part.planned("left", "suction")), null);
    private static final VisitTerms RARE = VisitTerms.of(List.of(), List.of(Part.planned("right", "water")), null);

    @Test
    void keepsKindAndNumberOfPartsApart() {
        FittedModel model = Baselines.quantilesByKind().fit(past());

        assertThat(model.predict(ONE).completion().quantile(0.8)).isEqualTo(20);
        assertThat(model.predict(TWO).completion().quantile(0.8)).isEqualTo(40);
    }

    @Test
    void fallsBackOnAllVisitsWhereACellIsThin() {
        FittedModel byKind = Baselines.quantilesByKind().fit(past());
        FittedModel fixed = Baselines.fixedSlot().fit(past());

        assertThat(byKind.predict(RARE).completion().quantile(0.5))
                .isEqualTo(fixed.predict(ONE).completion().quantile(0.5));
        assertThat(fixed.predict(TWO).completion().quantile(0.9))
                .isEqualTo(fixed.predict(ONE).completion().quantile(0.9));
    }

    @Test
    void answersBeforeAnyVisit() {
        FittedModel model = Baselines.quantilesByKind().fit(List.of());

        assertThat(model.visits()).isZero();
        assertThat(model.predict(ONE).completion().quantile(0.5)).isCloseTo(20, within(1e-9));
    }

    /**
     * survfit(Surv(time, status) ~ 1, aml, subset = x == "Maintained") at 9, 13, 18, 23, 31, 34, 48:
     * reference/survival-curves.R.
     */
    @Test
    void takesVisitsStoppedEarlyAsLowerBounds() {
        double[] times = {9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161};
        boolean[] cut = {false, true, false, false, false, true, false, false, true, false, true};
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < times.length; i++) {
            rows.add(ONE.took(times[i], cut[i] ? Ending.STOPPED_FOR_COMFORT : Ending.COMPLETED));
        }
        MinutesDistribution learnt = Baselines.times(rows);
        double[] survival = Reference.of("survival-curves").values("aml.survival");

        assertThat(1 - learnt.cdf(9)).isCloseTo(survival[0], within(1e-10));
        assertThat(1 - learnt.cdf(18)).isCloseTo(survival[2], within(1e-10));
        assertThat(1 - learnt.cdf(34)).isCloseTo(survival[5], within(1e-10));
        assertThat(1 - learnt.cdf(48)).isCloseTo(survival[6], within(1e-10));
        assertThat(learnt.cdf(161)).isEqualTo(1);
    }

    @Test
    void takesAWeightOfTwoAsTheRowTwice() {
        List<VisitRow> weighted = List.of(
                ONE.took(10, Ending.COMPLETED),
                new VisitRow(ONE, 14, Ending.STOPPED_FOR_TIME, 2),
                new VisitRow(ONE, 16, Ending.COMPLETED, 2),
                ONE.took(30, Ending.COMPLETED));
        List<VisitRow> repeated = new ArrayList<>(weighted);
        repeated.set(1, ONE.took(14, Ending.STOPPED_FOR_TIME));
        repeated.set(2, ONE.took(16, Ending.COMPLETED));
        repeated.add(ONE.took(14, Ending.STOPPED_FOR_TIME));
        repeated.add(ONE.took(16, Ending.COMPLETED));

        for (double minutes : new double[] {10, 14, 16, 30}) {
            assertThat(Baselines.times(weighted).cdf(minutes))
                    .isCloseTo(Baselines.times(repeated).cdf(minutes), within(1e-12));
        }
    }

    private static List<VisitRow> past() {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 1; i <= 25; i++) {
            rows.add(ONE.took(i, Ending.COMPLETED));
            rows.add(TWO.took(2 * i, Ending.COMPLETED));
        }
        rows.add(RARE.took(99, Ending.COMPLETED));
        return rows;
    }
}
