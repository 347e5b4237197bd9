package org.earslot.duration.past;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.earslot.duration.FittedModel;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.junit.jupiter.api.Test;

class RowOrderTest {

    @Test
    void goes_by_day_first() {
        long[] day = {5, -3, 5, 9_000_000_000L, -3};
        int[] order = RowOrder.of(day, new long[] {1, 2, 3, 4, 5}, new double[5], new long[5], 5);
        assertThat(IntStream.of(order).mapToLong(row -> day[row])).isSorted();
    }

    @Test
    void does_not_hang_on_the_order_of_the_table() {
        Random random = new Random(3);
        Integer[] places = IntStream.range(0, 500).boxed().toArray(Integer[]::new);
        double[] log = random.doubles(500).toArray();
        double[] inOrder = inOrder(log);
        for (int i = 0; i < 5; i++) {
            Collections.shuffle(Arrays.asList(places), random);
            double[] shuffled =
                    Arrays.stream(places).mapToDouble(place -> log[place]).toArray();
            assertThat(inOrder(shuffled)).containsExactly(inOrder);
        }
    }

    @Test
    void does_not_bring_the_short_ones_of_a_day_first() {
        double[] log = new Random(4).doubles(2000).toArray();
        double[] order = inOrder(log);
        double first = Arrays.stream(order, 0, 1000).average().orElseThrow();
        // Means of 1000 of 2000 uniform numbers; standard deviation 0.0065.
        assertThat(first).isCloseTo(Arrays.stream(log).average().orElseThrow(), within(0.03));
        double quarter = Arrays.stream(order, 0, 500).average().orElseThrow();
        assertThat(quarter).isCloseTo(Arrays.stream(log).average().orElseThrow(), within(0.05));
    }

    @Test
    void lets_a_table_without_days_be_calibrated() {
        Random random = new Random(5);
        List<VisitRow> rows = IntStream.range(0, 3000)
                .mapToObj(i -> VisitTerms.of(
                                List.of(),
                                List.of(Part.planned(
                                        "whole", "work", Term.level("size", i % 2 == 0 ? "big" : "small"))),
                                "P")
                        .took(Math.exp(3 + (i % 2) * 0.5 + 0.3 * random.nextGaussian()), Ending.COMPLETED))
                .toList();
        FittedModel model = OncePlusParts.with(Priors.weak()).fit(rows);
        double slot = model.predict(rows.get(0).terms()).completion().quantile(0.8);
        // exp(3 + 0.3 z), z = 0.8416212 the 0.8 quantile of the standard normal distribution (R 4.2.2: qnorm(0.8)).
        assertThat(slot).isCloseTo(Math.exp(3 + 0.3 * 0.8416212), within(0.04 * slot));
    }

    private static double[] inOrder(double[] log) {
        int[] order = RowOrder.of(new long[log.length], new long[log.length], log, new long[log.length], log.length);
        return IntStream.of(order).mapToDouble(row -> log[row]).toArray();
    }
}
