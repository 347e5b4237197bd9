package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;

class ShareTest {

    private static final double CLOSE = 1e-12;

    /** Made by reference/shares.R; versions and calls in shares.txt. */
    private static final Reference R = Reference.of("shares");

    @Test
    void has_the_score_interval_of_wilson() {
        // prop.test(12, 80, correct = FALSE)$conf.int
        double[] interval = R.values("share.12_of_80");
        Share share = new Share(12, 80);
        assertThat(share.share()).isEqualTo(0.15);
        assertThat(share.low()).isCloseTo(interval[0], within(CLOSE));
        assertThat(share.high()).isCloseTo(interval[1], within(CLOSE));
    }

    @Test
    void keeps_inside_0_and_1_at_the_ends() {
        // prop.test(0, 10, correct = FALSE)$conf.int
        double high = R.value("share.0_of_10");
        assertThat(new Share(0, 10).low()).isZero();
        assertThat(new Share(0, 10).high()).isCloseTo(high, within(CLOSE));
        assertThat(new Share(10, 10).high()).isCloseTo(1, within(CLOSE));
        assertThat(new Share(10, 10).low()).isCloseTo(1 - high, within(CLOSE));
    }

    @Test
    void is_not_known_of_nothing() {
        Share nothing = new Share(0, 0);
        assertThat(nothing.share()).isNull();
        assertThat(nothing.low()).isNull();
        assertThat(nothing.high()).isNull();
        assertThat(nothing.against(new Share(1, 2)).verdict()).isEqualTo(Change.Verdict.NOT_KNOWN);
    }

    @Test
    void differs_from_another_within_the_range_of_newcombe() {
        // a and b the score intervals prop.test(56, 70, correct = FALSE), prop.test(48, 80, correct = FALSE);
        // p - q - sqrt((p - a[1])^2 + (b[2] - q)^2), p - q + sqrt((a[2] - p)^2 + (q - b[1])^2)
        double[] range = R.values("difference.56_of_70.48_of_80");
        Change change = new Share(56, 70).against(new Share(48, 80));
        assertThat(change.by()).isCloseTo(0.2, within(CLOSE));
        assertThat(change.low()).isCloseTo(range[0], within(CLOSE));
        assertThat(change.high()).isCloseTo(range[1], within(CLOSE));
        assertThat(change.verdict()).isEqualTo(Change.Verdict.MORE);
        assertThat(new Share(48, 80).against(new Share(56, 70)).verdict()).isEqualTo(Change.Verdict.LESS);
        assertThat(new Share(3, 10).against(new Share(2, 10)).verdict()).isEqualTo(Change.Verdict.NOT_CLEAR);
    }

    @Test
    void refuses_more_than_the_whole() {
        assertThatThrownBy(() -> new Share(3, 2)).hasMessageContaining("3 of 2");
        assertThatThrownBy(() -> new Share(-1, 2)).hasMessageContaining("0");
    }
}
