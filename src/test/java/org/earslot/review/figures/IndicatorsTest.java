package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.earslot.review.ListedVisit;
import org.junit.jupiter.api.Test;

class IndicatorsTest {

    @Test
    void counts_only_what_was_recorded() {
        MeasuredVisit told =
                ListedVisit.on("2026-03-03").stopped(StoppedEarly.NO).visit();
        MeasuredVisit stopped =
                ListedVisit.on("2026-03-03").stopped(StoppedEarly.COMFORT).visit();
        MeasuredVisit byHand = ListedVisit.on("2026-03-03")
                .of(Method.MANUAL_REMOVAL, Ears.BOTH)
                .visit();
        MeasuredVisit absent = ListedVisit.on("2026-03-03").absent().visit();
        List<Indicators.Line> lines =
                Indicators.of(List.of(told, stopped, byHand, absent)).lines();
        assertThat(lines).extracting(Indicators.Line::method).containsExactly("", "microsuction", "manual_removal");
        assertThat(lines.get(0).visits()).isEqualTo(3);
        assertThat(lines.get(0).stopped()).isEqualTo(new Share(1, 2));
        assertThat(lines.get(0).residual()).isEqualTo(new Share(0, 0));
        assertThat(lines.get(2).stopped()).isEqualTo(new Share(0, 0));
        assertThat(Indicators.of(List.of()).lines()).isEmpty();
    }
}
