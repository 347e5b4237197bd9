package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.earslot.estimate.BookedEstimate;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.reference.Reference;
import org.earslot.review.ListedVisit;
import org.junit.jupiter.api.Test;

class EstimatedAndActualTest {

    private static final LogNormalMinutes MINUTES = new LogNormalMinutes(Math.log(20), 0.35);

    @Test
    void tells_the_share_out_by_each_estimated_time() {
        List<MeasuredVisit> visits = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            visits.add(at((i + 0.5) / 20, StoppedEarly.NO));
        }
        EstimatedAndActual estimated = EstimatedAndActual.of(visits);
        assertThat(estimated.lines()).hasSize(2);
        EstimatedAndActual.Line all = estimated.lines().get(0);
        assertThat(all.visits()).isEqualTo(20);
        assertThat(all.kept()).extracting(EstimatedAndActual.Kept::estimated).containsExactly(0.5, 0.8, 0.9, 0.95);
        assertThat(all.kept())
                .extracting(EstimatedAndActual.Kept::share)
                .allSatisfy(share -> assertThat(share).isBetween(0.0, 1.0));
        assertThat(all.kept().get(0).share()).isCloseTo(0.5, within(1e-12));
        assertThat(all.kept().get(1).share()).isCloseTo(0.8, within(1e-12));
        assertThat(all.pit()).containsExactly(2, 2, 2, 2, 2, 2, 2, 2, 2, 2);
        assertThat(estimated.lines().get(1).method()).isEqualTo("microsuction");
    }

    @Test
    void takes_visits_stopped_early_as_lasting_longer() {
        // reference/survival-curves.R: u <- c(.1, .3, .45, .5, .62, .7, .85, .97); e <- c(1, 1, 0, 1, 1, 0, 1, 1);
        // 1 - summary(survfit(Surv(u, e) ~ 1), times = c(.5, .8, .9, .95))$surv
        double[] shares = Reference.of("survival-curves").values("estimated.shares");
        List<MeasuredVisit> visits = List.of(
                at(0.1, StoppedEarly.NO),
                at(0.3, StoppedEarly.COMFORT),
                at(0.45, StoppedEarly.TIME),
                at(0.4999, StoppedEarly.NO),
                at(0.62, StoppedEarly.NO),
                at(0.7, StoppedEarly.SAFETY),
                at(0.85, StoppedEarly.NO),
                at(0.97, StoppedEarly.NO));
        EstimatedAndActual.Line all = EstimatedAndActual.of(visits).lines().get(0);
        assertThat(all.stoppedEarly()).isEqualTo(2);
        assertThat(all.kept().get(0).share()).isCloseTo(shares[0], within(1e-12));
        assertThat(all.kept().get(1).share()).isCloseTo(shares[1], within(1e-12));
        assertThat(all.kept().get(2).share()).isCloseTo(shares[2], within(1e-12));
        assertThat(all.kept().get(3).share()).isCloseTo(shares[3], within(1e-12));
        assertThat(all.pit().stream().mapToInt(Integer::intValue).sum()).isEqualTo(6);
    }

    @Test
    void counts_visits_without_a_estimate_apart() {
        MeasuredVisit imported = ListedVisit.on("2026-03-03")
                .booked("09:00", "09:20")
                .inRoom("09:00", "09:15", "09:20")
                .visit();
        assertThat(EstimatedAndActual.of(List.of(imported))).isEqualTo(new EstimatedAndActual(List.of(), 1));
    }

    /** A visit that took as long as the estimate said a share {@code place} would take at most, to the nanosecond. */
    private static MeasuredVisit at(double place, StoppedEarly stopped) {
        LocalTime start = LocalTime.of(9, 0);
        LocalTime end = start.plusNanos((long) (MINUTES.quantile(place) * 60e9));
        return ListedVisit.on("2026-03-03")
                .of(Method.MICROSUCTION, Ears.RIGHT)
                .booked("09:00", "09:20")
                .inRoom(start.toString(), end.toString(), end.toString())
                .stopped(stopped)
                .estimated(new BookedEstimate(
                                "test",
                                20,
                                MINUTES.mean(),
                                MINUTES.standardDeviation(),
                                BookedEstimate.quantiles(MINUTES),
                                BookedEstimate.quantiles(MINUTES),
                                0.1)
                        .text())
                .visit();
    }
}
