package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.judge.LogLinear;
import org.earslot.duration.judge.Scores;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.VisitRow;
import org.earslot.invented.ProcedureTables;
import org.junit.jupiter.api.Test;

/** A table of many factors, most of which matter little: as many columns as it has rows, and more. */
class WideTableTest {

    private static final double SLOT = 0.8;
    private static final int PAST = 600;

    @Test
    void learns_how_much_its_factors_matter() {
        double core = 0;
        double logLinear = 0;
        for (long seed = 61; seed < 64; seed++) {
            List<VisitRow> rows = ProcedureTables.wide(seed, PAST + 300, 24);
            core += judge(rows, OncePlusParts.with(Priors.weak()));
            logLinear += judge(rows, LogLinear.with(Priors.weak()));
        }
        assertThat(core).isLessThan(1.005 * logLinear);
    }

    private static double judge(List<VisitRow> rows, Estimator estimator) {
        FittedModel model = estimator.fit(rows.subList(0, PAST));
        return rows.subList(PAST, rows.size()).stream()
                .mapToDouble(row ->
                        Scores.pinball(model.predict(row.terms()).completion().quantile(SLOT), SLOT, row.minutes()))
                .sum();
    }
}
