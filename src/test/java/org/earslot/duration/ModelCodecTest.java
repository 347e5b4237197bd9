package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.judge.Baselines;
import org.earslot.duration.predict.ModelCodec;
import org.earslot.duration.predict.OncePlusPartsModel;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedTable;
import org.earslot.minutes.MinutesDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is written and read again answers as before, to the last bit. */
class ModelCodecTest {

    private static final double[] PROBABILITIES = {0.01, 0.5, 0.8, 0.999};

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 60, 1500, 6500})
    void answers_as_the_model_that_was_fitted(int visits) {
        List<VisitRow> rows = InventedTable.rows(InventedClinic.of(7, 4, 10_000).timedVisits());
        rows = rows.subList(0, Math.min(visits, rows.size()));
        assertSameAnswers(
                rows,
                Priors.earCare(),
                InventedTable.rows(InventedClinic.of(7, 4, 10_000).timedVisits()));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void answers_the_same_on_random_tables(long seed) {
        List<VisitRow> rows = RandomTables.rows(700, seed);
        assertSameAnswers(rows, Priors.earCare(), rows);
        assertSameAnswers(rows, Priors.weak(), rows);
    }

    @Test
    void answers_the_same_after_a_change_of_practice_and_with_numbers() {
        SplittableRandom random = new SplittableRandom(4);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 900; i++) {
            double age = random.nextInt(90);
            VisitTerms visit = new VisitTerms(
                    List.of(Term.number("age", age)),
                    List.of(Part.planned("whole", "work", Term.level("size", i % 3 == 0 ? "big" : "small"))),
                    "P" + random.nextInt(3),
                    i % 5 == 0 ? null : "K" + random.nextInt(300),
                    null,
                    i / 3,
                    random.nextInt(4) == 0 ? 9 : 0);
            double log = 2.5 + 0.004 * age + (i < 500 ? 0 : 0.6) + 0.2 * random.nextGaussian();
            rows.add(visit.took(Math.exp(log), Ending.COMPLETED));
        }
        OncePlusPartsModel model =
                (OncePlusPartsModel) OncePlusParts.with(Priors.weak()).fit(rows);
        assertThat(model.layout().changeDay).isLessThan(Long.MAX_VALUE);
        assertSameAnswers(rows, Priors.weak(), rows);
    }

    @Test
    void answers_the_same_of_what_no_visit_had() {
        List<VisitRow> rows = RandomTables.rows(300, 9);
        VisitTerms unseen = new VisitTerms(
                List.of(
                        Term.level("caution.new", "yes"),
                        new Term.Mixture("first_visit", Map.of("yes", 0.5, "no", 0.5))),
                List.of(
                        Part.planned("third", "another kind", Term.unknown("wax")),
                        Part.planned(
                                "left", "microsuction", Term.reported("wax", "hard"), Term.level("canal", "none"))),
                "P99",
                "K none",
                "R none",
                100_000,
                0);
        assertSameAnswers(rows, Priors.earCare(), List.of(unseen.took(1, Ending.COMPLETED)));
    }

    private static void assertSameAnswers(List<VisitRow> rows, Priors priors, List<VisitRow> asked) {
        FittedModel model = OncePlusParts.with(priors).fit(rows);
        byte[] bytes = ModelCodec.write(model);
        FittedModel again = ModelCodec.read(bytes, priors);
        assertThat(again.visits()).isEqualTo(model.visits()).isEqualTo(rows.size());
        assertThat(again.stoppedEarly()).isEqualTo(model.stoppedEarly());
        int step = Math.max(1, asked.size() / 60);
        for (int i = 0; i < asked.size(); i += step) {
            VisitTerms visit = asked.get(i).terms();
            assertSame(model.predict(visit), again.predict(visit), i % (20 * step) == 0);
            VisitTerms stranger = visit.doneBy(null);
            assertSame(model.predict(stranger), again.predict(stranger), false);
        }
        // Written again, the model that was read gives the same bytes: nothing is lost on the way.
        assertThat(ModelCodec.write(again)).isEqualTo(bytes);
    }

    private static void assertSame(Prediction one, Prediction other, boolean withQuestions) {
        assertSame(one.completion(), other.completion());
        assertSame(one.inRoom(), other.inRoom());
        assertThat(other.sharedSdLog()).isEqualTo(one.sharedSdLog());
        assertThat(other.why()).isEqualTo(one.why());
        if (withQuestions) {
            assertThat(other.ask()).isEqualTo(one.ask());
        }
    }

    private static void assertSame(MinutesDistribution one, MinutesDistribution other) {
        assertThat(other.mean()).isEqualTo(one.mean());
        assertThat(other.standardDeviation()).isEqualTo(one.standardDeviation());
        for (double probability : PROBABILITIES) {
            double minutes = one.quantile(probability);
            assertThat(other.quantile(probability)).isEqualTo(minutes);
            assertThat(other.cdf(minutes * 1.1)).isEqualTo(one.cdf(minutes * 1.1));
            assertThat(other.remainder(5).quantile(probability))
                    .isEqualTo(one.remainder(5).quantile(probability));
        }
    }

    @Test
    void takes_few_bytes_a_person() {
        List<VisitRow> rows = BenchTable.full(20_000, 3);
        byte[] bytes = ModelCodec.write(OncePlusParts.with(Priors.earCare()).fit(rows));
        // Half as many persons as visits; the coefficients and groups take the same whatever the visits.
        assertThat(bytes.length).isLessThan(700_000);
    }

    @Test
    void refuses_what_is_no_model_of_this_form() {
        byte[] bytes = ModelCodec.write(OncePlusParts.with(Priors.earCare()).fit(List.of()));
        assertThat(ModelCodec.canRead(bytes)).isTrue();
        bytes[0]++;
        assertThat(ModelCodec.canRead(bytes)).isFalse();
        assertThat(ModelCodec.canRead(new byte[0])).isFalse();
        assertThatThrownBy(() -> ModelCodec.read(bytes, Priors.earCare())).isInstanceOf(UncheckedIOException.class);
        FittedModel simple = Baselines.fixedSlot().fit(List.of());
        assertThatThrownBy(() -> ModelCodec.write(simple)).isInstanceOf(IllegalArgumentException.class);
    }
}
