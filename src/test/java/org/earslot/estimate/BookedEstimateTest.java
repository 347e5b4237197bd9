package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.junit.jupiter.api.Test;

class BookedEstimateTest {

    /** Mean 20, sd 8: sdlog .38525317016 and these quantiles: R 4.2.2, qlnorm(p, 2.92152227099, .38525317016). */
    private static final MinutesDistribution TWENTY = LogNormalMinutes.ofMoments(20, 8);

    private static Estimate estimate() {
        return new Estimate(
                "2026-03-03.abc", TWENTY, TWENTY, 30, 4, List.of(), List.of(), Estimate.RestsOn.visits(12), 0.15);
    }

    @Test
    void keeps_the_quantiles_to_a_hundredth_of_a_minute() {
        BookedEstimate estimate = BookedEstimate.find(estimate().estimated()).orElseThrow();
        assertThat(estimate.version()).isEqualTo("2026-03-03.abc");
        assertThat(estimate.slotMinutes()).isEqualTo(30);
        assertThat(estimate.completion())
                .containsEntry(0.5, 18.57)
                .containsEntry(0.75, 24.08)
                .containsEntry(0.8, 25.68)
                .containsEntry(0.9, 30.42)
                .hasSize(7);
        assertThat(estimate.mean()).isEqualTo(20);
        assertThat(estimate.sd()).isEqualTo(8);
        assertThat(estimate.sharedSdLog()).isEqualTo(0.15);
    }

    @Test
    void gives_back_the_distribution_through_the_kept_quantiles() {
        MinutesDistribution again =
                BookedEstimate.find(estimate().estimated()).orElseThrow().inRoomMinutes();
        assertThat(again.quantile(0.8)).isCloseTo(25.68, within(1e-9));
        assertThat(again.cdf(25.68)).isCloseTo(0.8, within(1e-9));
        // Straight on beyond the outermost quantiles: a log-normal stays one.
        assertThat(again.quantile(0.99)).isCloseTo(TWENTY.quantile(0.99), within(0.05));
        assertThat(again.quantile(0.01)).isCloseTo(TWENTY.quantile(0.01), within(0.05));
        assertThat(again.cdf(0)).isZero();
        assertThat(again.mean()).isEqualTo(20);
    }

    @Test
    void finds_none_in_a_text_without_usable_numbers() {
        String stored = estimate().estimated();
        List<String> unusable = List.of(
                "20 minutes",
                "{}",
                "",
                "{\"version\":\"1\",\"inRoom\":{\"0.5\":-3}}",
                stored.replace("\"0.5\":", "\"1.5\":"),
                stored.replaceAll("\"0.5\":[0-9.]+", "\"0.5\":null"));
        assertThat(unusable).doesNotContain(stored);
        for (String text : unusable) {
            assertThat(BookedEstimate.find(text)).as(text).isEmpty();
        }
        assertThat(BookedEstimate.find(null)).isEmpty();
    }
}
