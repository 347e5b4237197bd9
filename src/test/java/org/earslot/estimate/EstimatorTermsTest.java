package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.estimate.PastVisit.PastEar;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EstimatorTermsTest {

    private final EstimatorTerms terms = new EstimatorTerms(false);

    private static PastVisit bothByHand(Ear hand, StoppedEarly stopped, double minutes, double lateness) {
        PastEar right = new PastEar(
                new EarFindings(Wax.SOFT, null, null, null),
                new EarFindings(Wax.LOOSE, Canal.NARROW, Depth.DEEP_CANAL, null),
                List.of(Method.MANUAL_REMOVAL, Method.MICROSUCTION));
        return new PastVisit(
                LocalDate.of(2026, 3, 3),
                "P1",
                hand,
                "K1",
                "F1",
                Method.MANUAL_REMOVAL,
                Ears.BOTH,
                Answer.YES,
                Answer.NOT_KNOWN,
                Set.of(Caution.TINNITUS, Caution.NEEDS_SUPPORT),
                5,
                right,
                PastEar.UNKNOWN,
                stopped,
                minutes,
                lateness);
    }

    private VisitRow row(PastVisit visit) {
        return terms.row(visit).orElseThrow();
    }

    @Test
    void say_what_is_paid_once_and_what_each_ear_has() {
        VisitTerms visit = row(bothByHand(Ear.RIGHT, StoppedEarly.NO, 42, 7)).terms();
        assertThat(visit.once())
                .containsExactly(
                        Term.level("first_visit", "yes"),
                        Term.unknown("hearing_aid"),
                        Term.level("caution.needs_support", "yes"));
        assertThat(visit.parts())
                .extracting("name", "kind")
                .containsExactly(
                        org.assertj.core.groups.Tuple.tuple("right", "manual_removal"),
                        org.assertj.core.groups.Tuple.tuple("left", "manual_removal"));
        assertThat(visit.parts().get(0).used()).containsExactly("manual_removal", "microsuction");
        assertThat(visit.parts().get(0).terms())
                .containsExactly(
                        Term.found("wax", "soft", "loose"),
                        Term.found("canal", null, "narrow"),
                        Term.found("depth", null, "deep_canal"),
                        Term.level("softener", "days_5_7"),
                        Term.level("far", "no"),
                        Term.level("caution.tinnitus", "yes"));
        assertThat(visit.parts().get(1).terms()).contains(Term.unknown("wax"), Term.level("far", "yes"));
        assertThat(visit.group()).isEqualTo("P1");
        assertThat(visit.person()).isEqualTo("K1");
        assertThat(visit.source()).isEqualTo("F1");
        assertThat(visit.day()).isEqualTo(LocalDate.of(2026, 3, 3).toEpochDay());
        assertThat(visit.lateness()).isEqualTo(7);
    }

    @Test
    void name_the_side_where_the_dominant_hand_is_not_known() {
        VisitTerms visit = row(bothByHand(null, StoppedEarly.NO, 42, 0)).terms();
        assertThat(visit.parts().get(0).terms()).contains(Term.level("side", "right"));
        assertThat(visit.parts().get(1).terms()).contains(Term.level("side", "left"));
    }

    @Test
    void take_stops_as_lower_bounds_by_their_reason() {
        assertThat(row(bothByHand(null, null, 20, 0)).ending()).isEqualTo(Ending.COMPLETED);
        assertThat(row(bothByHand(null, StoppedEarly.NO, 20, 0)).ending()).isEqualTo(Ending.COMPLETED);
        assertThat(row(bothByHand(null, StoppedEarly.COMFORT, 20, 0)).ending()).isEqualTo(Ending.STOPPED_FOR_COMFORT);
        assertThat(row(bothByHand(null, StoppedEarly.SAFETY, 20, 0)).ending()).isEqualTo(Ending.STOPPED_FOR_COMFORT);
        assertThat(row(bothByHand(null, StoppedEarly.TIME, 20, 0)).ending()).isEqualTo(Ending.STOPPED_FOR_TIME);
    }

    @Test
    void keep_minutes_out_of_reason_out_of_the_fit() {
        assertThat(terms.row(bothByHand(null, null, 0, 0))).isEmpty();
        assertThat(terms.row(bothByHand(null, null, 181, 0))).isEmpty();
        assertThat(terms.row(bothByHand(null, null, 180, 0))).isPresent();
    }

    @Test
    void bound_lateness_at_an_hour() {
        assertThat(row(bothByHand(null, null, 20, 300)).terms().lateness()).isEqualTo(60);
        assertThat(row(bothByHand(null, null, 20, -4)).terms().lateness()).isZero();
    }

    @Test
    void know_how_much_is_blocked_only_where_that_is_recorded_or_said() {
        VisitPlan silent = VisitPlan.of(Method.MICROSUCTION, Ears.LEFT);
        assertThat(terms.plan(silent, null, null, 0).parts().get(0).terms())
                .extracting(Term::factor)
                .containsExactly("wax", "canal", "depth", "softener", "side");
        assertThat(new EstimatorTerms(true)
                        .plan(silent, null, null, 0)
                        .parts()
                        .get(0)
                        .terms())
                .contains(Term.unknown("occlusion"));
        VisitPlan said = new VisitPlan(
                null,
                null,
                Method.MICROSUCTION,
                Ears.LEFT,
                Answer.NOT_KNOWN,
                Answer.NOT_KNOWN,
                Set.of(),
                null,
                Map.of(Ear.LEFT, new EarFindings(null, null, null, Occlusion.PARTLY)),
                null);
        assertThat(terms.plan(said, null, null, 0).parts().get(0).terms())
                .contains(Term.reported("occlusion", "partly"));
    }

    @ParameterizedTest
    @CsvSource({
        "0,none",
        "1,days_1_2",
        "2,days_1_2",
        "3,days_3_4",
        "4,days_3_4",
        "5,days_5_7",
        "7,days_5_7",
        "8,days_8_more"
    })
    void put_days_of_softener_into_steps(int days, String level) {
        VisitPlan plan = new VisitPlan(
                null, null, Method.IRRIGATION, Ears.RIGHT, Answer.NO, Answer.NO, Set.of(), days, Map.of(), null);
        assertThat(terms.plan(plan, null, null, 0).parts().get(0).terms()).contains(Term.level("softener", level));
    }

    @Test
    void share_equal_parts_among_rows() {
        VisitRow one = row(bothByHand(Ear.RIGHT, null, 20, 0));
        VisitRow other = row(bothByHand(Ear.RIGHT, null, 30, 0));
        assertThat(other.terms().parts().get(0)).isSameAs(one.terms().parts().get(0));
        assertThat(other.terms().once()).isSameAs(one.terms().once());
    }
}
