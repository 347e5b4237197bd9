package org.earslot.duration.judge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.earslot.duration.Estimator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.Prediction;
import org.earslot.duration.judge.RollingOrigin.Contestant;
import org.earslot.duration.judge.RollingOrigin.Group;
import org.earslot.duration.judge.RollingOrigin.Plan;
import org.earslot.duration.judge.RollingOrigin.Result;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.junit.jupiter.api.Test;

class RollingOriginTest {

    private static final Plan PLAN = new Plan(300, 6, 0.8);

    @Test
    void fitsOnEarlierDaysOnly() {
        List<VisitRow> rows = clinic(600);
        List<Long> newest = new ArrayList<>();
        List<Long> asked = new ArrayList<>();
        Estimator watching = past -> {
            long last = -1;
            for (VisitRow row : past) {
                last = Math.max(last, row.terms().day());
            }
            newest.add(last);
            long learntUpTo = last;
            FittedModel plain = Baselines.fixedSlot().fit(past);
            return new FittedModel() {
                @Override
                public Prediction predict(VisitTerms visit) {
                    asked.add(visit.day());
                    assertThat(visit.day()).isGreaterThan(learntUpTo);
                    return plain.predict(visit);
                }

                @Override
                public long visits() {
                    return plain.visits();
                }

                @Override
                public long stoppedEarly() {
                    return plain.stoppedEarly();
                }
            };
        };
        RollingOrigin.judge(rows, List.of(new Contestant("watching", watching)), PLAN);

        assertThat(newest).hasSize(6).isSorted();
        assertThat(asked).hasSizeBetween(290, 300).isSorted();
    }

    @Test
    void judgesEveryVisitAfterTheFirstOriginOnceInEachView() {
        List<VisitRow> rows = clinic(600);
        Result result = RollingOrigin.judge(rows, contestants(), PLAN).get(0);

        int judged = result.overall().visits();
        assertThat(judged).isBetween(290, 300);
        assertThat(result.overTime().stream().mapToInt(s -> s.card().visits()).sum())
                .isEqualTo(judged);
        assertThat(result.byGroup().get(new Group("suction", 0)).visits()).isEqualTo(judged);
        assertThat(result.byGroup().get(new Group("", 1)).visits()
                        + result.byGroup().get(new Group("", 2)).visits())
                .isEqualTo(judged);
        assertThat(result.byGroup().get(new Group("suction", 2)))
                .isEqualTo(result.byGroup().get(new Group("", 2)));
    }

    @Test
    void findsQuantilesByKindBetterThanAFixedSlotWhereKindMatters() {
        List<Result> results = RollingOrigin.judge(clinic(1200), contestants(), PLAN);

        assertThat(results.get(1).overall().pinball())
                .isLessThan(results.get(0).overall().pinball());
        assertThat(results.get(1).overall().crps())
                .isLessThan(results.get(0).overall().crps());
        assertThat(results.get(1).overall().slotCoverage()).isCloseTo(0.8, within(0.05));
        // One slot for all is too long for one part and too short for two.
        assertThat(results.get(0).byGroup().get(new Group("", 1)).slotCoverage())
                .isGreaterThan(0.9);
        assertThat(results.get(0).byGroup().get(new Group("", 2)).slotCoverage())
                .isLessThan(0.65);
    }

    @Test
    void doesNotDependOnTheOrderOfTheDays() {
        List<VisitRow> rows = clinic(400);
        List<VisitRow> backwards = new ArrayList<>(rows);
        // Rows of one day keep their order; days are turned round.
        backwards.sort(Collections.reverseOrder(
                (a, b) -> Long.compare(a.terms().day(), b.terms().day())));

        assertThat(RollingOrigin.judge(backwards, contestants(), PLAN))
                .isEqualTo(RollingOrigin.judge(rows, contestants(), PLAN));
    }

    @Test
    void judgesFromTheVeryFirstDayAndNothingWhereNothingFollows() {
        List<VisitRow> rows = clinic(40);

        assertThat(RollingOrigin.judge(rows, contestants(), new Plan(0, 2, 0.8))
                        .get(0)
                        .overall()
                        .visits())
                .isEqualTo(40);
        assertThat(RollingOrigin.judge(rows, contestants(), PLAN)).isEmpty();
        assertThat(RollingOrigin.judge(List.of(), contestants(), PLAN)).isEmpty();
        assertThatThrownBy(() -> new Plan(-1, 2, 0.8)).hasMessageContaining("first is -1");
        assertThatThrownBy(() -> new Plan(0, 0, 0.8)).hasMessageContaining("blocks is 0");
        assertThatThrownBy(() -> new Plan(0, 1, 1.2)).hasMessageContaining("1.2");
    }

    private static List<Contestant> contestants() {
        return List.of(
                new Contestant("fixed slot", Baselines.fixedSlot()),
                new Contestant("by kind", Baselines.quantilesByKind()));
    }

    /** Twelve visits a day of one or two parts; two take twice as long. */
    private static List<VisitRow> clinic(int visits) {
        Random random = new Random(12);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < visits; i++) {
            boolean both = random.nextBoolean();
            List<Part> parts = both
                    ? List.of(Part.planned("right", "suction"), Part.planned("left", "suction"))
                    : List.of(Part.planned("right", "suction"));
            VisitTerms terms = new VisitTerms(List.of(), parts, "P1", null, null, i / 12, 0);
            double minutes = Math.max(1, Math.rint((both ? 30 : 15) * Math.exp(0.3 * random.nextGaussian())));
            rows.add(terms.took(minutes, random.nextInt(20) == 0 ? Ending.STOPPED_FOR_COMFORT : Ending.COMPLETED));
        }
        return rows;
    }
}
