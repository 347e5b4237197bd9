package org.earslot.duration.knowledge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.Stream;
import org.earslot.duration.Estimator;
import org.earslot.duration.FittedModel;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.predict.ModelCodec;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitTerms;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedTable;
import org.earslot.invented.KnownQuantiles;
import org.junit.jupiter.api.Test;

/** What an expert says, put beside priors and visits. */
class ExpertKnowledgeTest {

    private static final Estimator PLAIN = OncePlusParts.with(Priors.earCare());
    private static final VisitTerms SUCTION = KnownQuantiles.kind("microsuction", 1);

    @Test
    void leaves_everything_as_it_is_where_nothing_is_said() {
        assertThat(ExpertKnowledge.NONE.informing(PLAIN)).isSameAs(PLAIN);
        assertThat(ExpertKnowledge.NONE.outweighedAfter(PLAIN.fit(List.of()))).isZero();
    }

    @Test
    void says_with_no_visit_nearly_what_was_said() {
        FittedModel model = informed(said(SUCTION, 8, 14.0)).fit(List.of());

        assertThat(model.predict(SUCTION).completion().quantile(0.5)).isCloseTo(8, within(0.5));
        assertThat(quantile(PLAIN.fit(List.of()), SUCTION, 0.5)).isGreaterThan(10);
        assertThat(quantile(model, SUCTION, 0.9)).isBetween(13.0, 17.0);
    }

    @Test
    void learns_from_one_kind_on_the_others() {
        VisitTerms byHand = KnownQuantiles.kind("manual_removal", 2);

        FittedModel model = informed(said(SUCTION, 7, null)).fit(List.of());

        assertThat(quantile(model, byHand, 0.5)).isLessThan(0.85 * quantile(PLAIN.fit(List.of()), byHand, 0.5));
    }

    @Test
    void narrows_the_forecast_where_one_in_ten_is_close_to_what_is_usual() {
        FittedModel narrow = informed(said(SUCTION, 11, 14.0)).fit(List.of());
        FittedModel wide = informed(said(SUCTION, 11, 26.0)).fit(List.of());

        assertThat(spread(narrow)).isLessThan(0.75 * spread(wide));
    }

    @Test
    void takes_what_is_said_of_hard_wax_as_its_effect() {
        VisitTerms hard = withWax("hard");
        double plain = ratio(PLAIN.fit(List.of()), hard);

        FittedModel model =
                informed(said(SUCTION, 11, null), said(hard, 22, null)).fit(List.of());

        assertThat(ratio(model, hard)).isGreaterThan(1.08 * plain);
    }

    @Test
    void makes_the_same_model_each_time() {
        Estimator informed = informed(said(SUCTION, 12, 21.0), said(KnownQuantiles.kind("irrigation", 2), 17, 33.0));
        var rows = InventedTable.rows(InventedClinic.of(5, 2, 120).timedVisits());

        assertThat(ModelCodec.write(informed.fit(rows))).isEqualTo(ModelCodec.write(informed.fit(rows)));
        assertThat(ModelCodec.write(informed.fit(rows))).isNotEqualTo(ModelCodec.write(PLAIN.fit(rows)));
    }

    @Test
    void forgets_it_in_the_light_of_many_visits() {
        var rows = InventedTable.rows(InventedClinic.of(6, 2, 1500).timedVisits());
        FittedModel plain = PLAIN.fit(rows);

        FittedModel misled = informed(said(SUCTION, 40, 60.0)).fit(rows);

        VisitTerms known = SUCTION.doneBy("P1");
        assertThat(quantile(misled, known, 0.5)).isCloseTo(quantile(plain, known, 0.5), within(0.3));
    }

    @Test
    void counts_for_less_the_more_coarsely_it_is_said() {
        ExpertKnowledge fine = new ExpertKnowledge(List.of(said(SUCTION, 11, 19.0)));
        ExpertKnowledge coarse = new ExpertKnowledge(List.of(said(SUCTION, 10, 20.0)));

        assertThat(fine.outweighedAfter(fine.informing(PLAIN).fit(List.of())))
                .isGreaterThan(coarse.outweighedAfter(coarse.informing(PLAIN).fit(List.of())))
                .isBetween(5L, 30L);
    }

    @Test
    void is_outweighed_after_about_as_many_visits_when_it_is_far_from_what_was_assumed() {
        for (double times : new double[] {0.4, 2, 4}) {
            ExpertKnowledge far = new ExpertKnowledge(List.of(said(SUCTION, 11 * times, 19 * times)));
            assertThat(far.outweighedAfter(far.informing(PLAIN).fit(List.of())))
                    .as("all minutes times " + times)
                    .isBetween(5L, 60L);
        }
    }

    @Test
    void refuses_minutes_that_are_none() {
        assertThatThrownBy(() -> said(SUCTION, Double.NaN, null)).hasMessageContaining("NaN");
        assertThatThrownBy(() -> said(SUCTION, 0, null)).hasMessageContaining("above 0");
        assertThatThrownBy(() -> said(SUCTION, 12, 12.0)).hasMessageContaining("above 12");
    }

    private static ElicitedMinutes said(VisitTerms visit, double usual, Double oneInTenOver) {
        return new ElicitedMinutes(visit, usual, oneInTenOver);
    }

    private static Estimator informed(ElicitedMinutes... said) {
        return new ExpertKnowledge(List.of(said)).informing(PLAIN);
    }

    private static double quantile(FittedModel model, VisitTerms visit, double probability) {
        return model.predict(visit).completion().quantile(probability);
    }

    private static double spread(FittedModel model) {
        return Math.log(quantile(model, SUCTION, 0.9) / quantile(model, SUCTION, 0.5));
    }

    private static double ratio(FittedModel model, VisitTerms hard) {
        return quantile(model, hard, 0.5) / quantile(model, withWax("soft"), 0.5);
    }

    private static VisitTerms withWax(String wax) {
        Term[] terms = Stream.concat(
                        Stream.of(Term.level("wax", wax)),
                        Stream.of("canal", "depth", "occlusion", "softener").map(Term::unknown))
                .toArray(Term[]::new);
        return VisitTerms.of(SUCTION.once(), List.of(Part.planned("right", "microsuction", terms)), null);
    }
}
