package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.earslot.duration.FittedModel;
import org.earslot.duration.fit.OncePlusParts;
import org.earslot.duration.predict.ModelCodec;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Priors;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.estimate.ModelReport.Referrer;
import org.earslot.estimate.ModelReport.Table;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.InventedTable;
import org.junit.jupiter.api.Test;

class ModelReportTest {

    /** As a release kept it that knew neither referrers nor multipliers' ranges nor stops. */
    private static final String EARLIER = """
            {"kinds":[{"method":"microsuction","ears":1,"visits":12,"half":11.5,"most":15.25}],
             "effects":[{"method":"microsuction","factor":"wax","level":"hard","visits":4,"minutes":2.0,"low":1.0,
                         "high":3.0,"times":1.4}],
             "paces":[],"tables":[]}""";

    private static ModelReport of(List<VisitRow> rows) {
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(rows);
        return ModelReport.of(rows, model);
    }

    private static VisitRow visit(int number, String referrer, String reported, String found, Ending ending) {
        Part part = Part.planned("right", "microsuction", Term.found("wax", reported, found));
        return new VisitTerms(List.of(), List.of(part), "P1", "K" + number, referrer, number, 0)
                .took((found.equals("hard") ? 16 : 10) + number * 7 % 11, ending);
    }

    private static List<VisitRow> rows(Ending everyFifth) {
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 40; i++) {
            // What the reliable one says is so; the other says hard whatever it is.
            String found = i % 4 < 2 ? "hard" : "soft";
            String referrer = i % 2 == 0 ? "Reliable" : "Other";
            rows.add(visit(
                    i,
                    referrer,
                    referrer.equals("Reliable") ? found : "hard",
                    found,
                    i % 5 == 0 ? everyFifth : Ending.COMPLETED));
        }
        rows.add(visit(40, "Silent", null, "soft", Ending.COMPLETED));
        return rows;
    }

    @Test
    void is_the_same_of_a_model_that_was_stored_and_loaded() {
        List<VisitRow> rows = InventedTable.rows(InventedClinic.of(5, 3, 600).timedVisits());
        FittedModel model = OncePlusParts.with(Priors.earCare()).fit(rows);
        FittedModel loaded = ModelCodec.read(ModelCodec.write(model), Priors.earCare());
        assertThat(ModelReport.of(rows, loaded)).isEqualTo(ModelReport.of(rows, model));
    }

    @Test
    void tells_whose_reports_turn_out_so() {
        List<Referrer> referrers = of(rows(Ending.COMPLETED)).referrers();
        assertThat(referrers).extracting(Referrer::name).containsExactlyInAnyOrder("Reliable", "Other");
        for (Referrer referrer : referrers) {
            Table wax = referrer.tables().get(0);
            assertThat(wax.factor()).isEqualTo("wax");
            assertThat(wax.reports()).isEqualTo(20);
            assertThat(wax.foundAsReported()).isCloseTo(referrer.name().equals("Reliable") ? 1 : 0.5, within(1e-3));
        }
    }

    @Test
    void tells_how_far_minutes_would_move_if_stops_fell_on_hard_visits() {
        long seed = 9;
        SplittableRandom random = new SplittableRandom(seed);
        List<VisitRow> rows = new ArrayList<>();
        for (int i = 0; i < 400; i++) {
            double minutes = 14 * Math.exp(0.35 * random.nextGaussian());
            boolean stopped = i % 10 == 0;
            VisitTerms terms = visit(i, "Other", null, "soft", Ending.COMPLETED).terms();
            rows.add(terms.took(
                    stopped ? minutes * random.nextDouble(0.4, 1) : minutes,
                    stopped ? Ending.STOPPED_FOR_COMFORT : Ending.COMPLETED));
        }
        StopsByDifficulty stops = of(rows).stops();
        assertThat(stops.visits()).isEqualTo(400);
        assertThat(stops.stopped()).isEqualTo(40);
        assertThat(stops.lines()).singleElement().satisfies(line -> {
            assertThat(line.visits()).isEqualTo(400);
            assertThat(line.half()).hasSameSizeAs(StopsByDifficulty.GAMMAS).isSorted();
            assertThat(line.most()).hasSameSizeAs(StopsByDifficulty.GAMMAS).isSorted();
            assertThat(line.most().get(2)).isGreaterThan(1.02 * line.most().get(0));
        });
    }

    @Test
    void tells_of_no_stops_where_there_were_none() {
        assertThat(of(rows(Ending.STOPPED_FOR_TIME)).stops().lines()).isEmpty();
        assertThat(of(List.of()).stops()).isEqualTo(StopsByDifficulty.NONE);
    }

    @Test
    void tells_multipliers_with_their_range() {
        assertThat(of(rows(Ending.COMPLETED)).effects())
                .filteredOn(effect -> effect.level().equals("hard"))
                .singleElement()
                .satisfies(effect -> {
                    assertThat(effect.times()).isGreaterThan(1.1);
                    assertThat(effect.timesLow()).isLessThan(effect.times()).isPositive();
                    assertThat(effect.timesHigh()).isGreaterThan(effect.times());
                });
    }

    @Test
    void comes_back_as_it_was_kept() {
        ModelReport learnt = of(rows(Ending.STOPPED_FOR_COMFORT));
        assertThat(ModelReport.read(learnt.text())).isEqualTo(learnt);
    }

    @Test
    void reads_what_an_earlier_release_kept() {
        ModelReport learnt = ModelReport.read(EARLIER);
        assertThat(learnt.effects()).hasSize(1);
        assertThat(learnt.referrers()).isEmpty();
        assertThat(learnt.stops()).isEqualTo(StopsByDifficulty.NONE);
    }
}
