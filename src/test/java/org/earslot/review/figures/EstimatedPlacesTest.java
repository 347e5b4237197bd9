package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.earslot.reference.Reference;
import org.junit.jupiter.api.Test;

class EstimatedPlacesTest {

    private static final double CLOSE = 1e-12;

    @Test
    void tells_the_plain_shares_where_no_visit_was_stopped_early() {
        List<EstimatedAndActual.Met> met = new ArrayList<>();
        for (int i = 0; i < 40; i++) {
            met.add(new EstimatedAndActual.Met("microsuction", "left", (i + 0.5) / 40, false));
        }
        List<EstimatedPlaces> places = EstimatedPlaces.of(met);
        assertThat(places).extracting(EstimatedPlaces::method).containsExactly("", "microsuction");
        assertThat(places.get(1).ears()).isEqualTo("left");
        for (double estimated : EstimatedAndActual.SHARES) {
            assertThat(places.get(0).kept(estimated).share()).isCloseTo(estimated, within(CLOSE));
        }
        assertThat(places.get(0).tenths()).containsOnly(4).hasSize(10);
    }

    @Test
    void counts_those_stopped_early_as_half_at_risk_in_their_class() {
        // reference/medians.R: 1 - cumprod(1 - ended / (at.risk - cut / 2))
        double[] shares = Reference.of("medians").values("life_table");
        EstimatedPlaces places = new EstimatedPlaces(
                "",
                "",
                List.of(3, 2, 4, 1, 0, 5, 2, 3, 2, 2, 1, 4, 3, 2, 2, 3, 1, 2, 1, 2),
                List.of(0, 1, 0, 0, 2, 0, 1, 0, 0, 1, 0, 0, 2, 0, 0, 1, 0, 0, 0, 1));
        for (int i = 0; i < EstimatedAndActual.SHARES.length; i++) {
            assertThat(places.kept(EstimatedAndActual.SHARES[i]).share()).isCloseTo(shares[i], within(CLOSE));
        }
        assertThat(places.visits()).isEqualTo(54);
        assertThat(places.cut()).isEqualTo(9);
    }

    @Test
    void puts_the_ends_of_a_class_where_they_belong() {
        List<EstimatedPlaces> places = EstimatedPlaces.of(List.of(
                new EstimatedAndActual.Met("irrigation", "both", 0, false),
                new EstimatedAndActual.Met("irrigation", "both", 0.5, false),
                new EstimatedAndActual.Met("irrigation", "both", 0.8, true),
                new EstimatedAndActual.Met("irrigation", "both", 1, false)));
        assertThat(places.get(0).ended().get(0)).isEqualTo(1);
        assertThat(places.get(0).ended().get(9)).isEqualTo(1);
        assertThat(places.get(0).stoppedEarly().get(15)).isEqualTo(1);
        assertThat(places.get(0).ended().get(19)).isEqualTo(1);
        assertThat(places.get(0).kept(0.5).share()).isCloseTo(0.5, within(CLOSE));
    }

    @Test
    void adds_months_up() {
        List<EstimatedPlaces> one =
                EstimatedPlaces.of(List.of(new EstimatedAndActual.Met("irrigation", "both", 0.3, false)));
        EstimatedPlaces two = one.get(0).plus(one.get(0));
        assertThat(two.visits()).isEqualTo(2);
        assertThat(two.ended().get(5)).isEqualTo(2);
    }

    @Test
    void knows_nothing_of_no_visits() {
        List<Integer> none = Collections.nCopies(EstimatedPlaces.CLASSES, 0);
        assertThat(new EstimatedPlaces("", "", none, none).kept(0.8)).isNull();
    }
}
