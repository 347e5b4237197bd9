package org.earslot.review.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.review.advice.SlotAdvice.Verdict;
import org.earslot.review.advice.SlotEvidence.Taken;
import org.earslot.review.figures.Share;
import org.junit.jupiter.api.Test;

class SlotAdviceTest {

    /** Grid 5, 1 in 4 may take longer, slots of 10 to 60. */
    private static final PolicyTerms POLICY = new PolicyTerms(5, 0.25, 0.2, 10, 60, 15, 5, 3, 4, 5);

    private static final Supplier<List<String>> NOTHING = List::of;

    /** Visits whose slot must hold 30 minutes, so many of which last so long. */
    private static Stream<Taken> visits(int count, double minutes) {
        return IntStream.range(0, count).mapToObj(i -> new Taken(minutes, false, 30));
    }

    private static SlotEvidence evidence(Stream<Taken> some, Stream<Taken> others) {
        return new SlotEvidence(Stream.concat(some, others).toList());
    }

    @Test
    void advises_the_step_that_comes_nearest_to_the_accepted_share() {
        // 60 of 100 take longer than 30; 45 longer than 35; 26 longer than 40; none longer than 45.
        SlotEvidence seen =
                evidence(Stream.concat(visits(40, 28), visits(15, 33)), Stream.concat(visits(19, 38), visits(26, 43)));
        assertThat(seen.longer(POLICY, 0)).isEqualTo(new Share(60, 100));
        SlotAdvice advice = SlotAdvice.of(seen, POLICY, 0, 6, NOTHING);
        assertThat(advice).isEqualTo(new SlotAdvice(Verdict.TOO_SHORT, 10, List.of()));
        assertThat(seen.slots(POLICY, 10)).containsExactly(40, 40, 40);
    }

    @Test
    void advises_nothing_on_few_visits_or_on_what_chance_would_show() {
        assertThat(SlotAdvice.of(evidence(visits(29, 50), Stream.of()), POLICY, 0, 6, NOTHING)
                        .verdict())
                .isEqualTo(Verdict.TOO_FEW);
        // 18 of 50: Wilson's formula worked apart (Python 3, statistics.NormalDist().inv_cdf(1 - 0.05 / 12) = 2.63826)
        // gives .20845 to .54577, which holds .25.
        SlotEvidence noise = evidence(visits(32, 28), visits(18, 38));
        assertThat(SlotAdvice.of(noise, POLICY, 0, 6, NOTHING)).isEqualTo(new SlotAdvice(Verdict.FITS, 0, List.of()));
        assertThat(new Share(18, 50).low(2.638257273)).isCloseTo(0.20844550581, within(1e-9));
    }

    @Test
    void judges_kinds_together_more_strictly_than_one_alone() {
        // 39 of 110: from .2714 for one kind (z = 1.95996), from .2462 for six (z = 2.63826), worked apart as above.
        SlotEvidence seen = evidence(visits(71, 28), Stream.concat(visits(12, 33), visits(27, 38)));
        assertThat(SlotAdvice.of(seen, POLICY, 0, 1, NOTHING).verdict()).isEqualTo(Verdict.TOO_SHORT);
        assertThat(SlotAdvice.of(seen, POLICY, 0, 6, NOTHING).verdict()).isEqualTo(Verdict.FITS);
    }

    @Test
    void advises_a_shorter_slot_unless_something_speaks_against_it() {
        SlotEvidence seen = evidence(visits(80, 18), visits(20, 23));
        assertThat(SlotAdvice.of(seen, POLICY, 0, 6, NOTHING))
                .isEqualTo(new SlotAdvice(Verdict.TOO_LONG, -10, List.of()));
        assertThat(SlotAdvice.of(seen, POLICY, 0, 6, () -> List.of("residual")))
                .isEqualTo(new SlotAdvice(Verdict.LEFT_LONG, 0, List.of("residual")));
    }

    @Test
    void shortens_down_to_the_shortest_slot_where_nobody_takes_longer() {
        assertThat(SlotAdvice.of(evidence(visits(50, 6), Stream.of()), POLICY, 0, 6, NOTHING))
                .isEqualTo(new SlotAdvice(Verdict.TOO_LONG, -20, List.of()));
    }

    @Test
    void finds_no_fault_in_a_slot_that_is_long_only_by_rounding_up() {
        // 31 are needed, which 25 of 100 pass; the slot of 35 none does.
        SlotEvidence seen = new SlotEvidence(IntStream.range(0, 100)
                .mapToObj(i -> new Taken(i < 75 ? 28 : 33, false, 31))
                .toList());
        assertThat(seen.longer(POLICY, 0)).isEqualTo(new Share(0, 100));
        assertThat(SlotAdvice.of(seen, POLICY, 0, 6, NOTHING)).isEqualTo(new SlotAdvice(Verdict.ROUNDED, 0, List.of()));
    }

    @Test
    void starts_from_the_minutes_already_given_beyond_the_estimate() {
        SlotEvidence seen = evidence(visits(75, 38), visits(25, 48));
        assertThat(SlotAdvice.of(seen, POLICY, 0, 6, NOTHING).beyond()).isEqualTo(10);
        assertThat(SlotAdvice.of(seen, POLICY, 10, 6, NOTHING)).isEqualTo(new SlotAdvice(Verdict.FITS, 10, List.of()));
    }

    @Test
    void says_so_where_the_longest_slot_is_in_the_way() {
        SlotEvidence seen = new SlotEvidence(
                IntStream.range(0, 50).mapToObj(i -> new Taken(80, false, 60)).toList());
        assertThat(SlotAdvice.of(seen, POLICY, 0, 6, NOTHING).verdict()).isEqualTo(Verdict.NO_STEP);
    }

    @Test
    void takes_a_visit_stopped_for_time_as_one_that_would_have_lasted_longer() {
        // Kaplan and Meier by hand: of four, one is stopped at 25 of 30 and three remain at risk; one is over at 28,
        // two
        // last longer: 2/3 of 4 beyond the slot, as 3 of 4.
        SlotEvidence seen = new SlotEvidence(List.of(
                new Taken(25, true, 30), new Taken(28, false, 30), new Taken(35, false, 30), new Taken(40, false, 30)));
        assertThat(seen.longer(POLICY, 0)).isEqualTo(new Share(3, 4));
    }

    @Test
    void a_rise_of_residual_wax_stops_or_events_speaks_against_shorter_slots() {
        PastOutcomes.Half quiet = new PastOutcomes.Half(new Share(5, 100), new Share(2, 100), new Share(1, 100));
        PastOutcomes.Half residual = new PastOutcomes.Half(new Share(15, 100), new Share(2, 100), new Share(1, 100));
        PastOutcomes.Half harmed = new PastOutcomes.Half(new Share(5, 100), new Share(9, 100), new Share(8, 100));
        PastOutcomes.Half unknown = new PastOutcomes.Half(new Share(0, 0), new Share(2, 100), new Share(1, 100));
        assertThat(new PastOutcomes(quiet, quiet).againstShorter()).isEmpty();
        assertThat(new PastOutcomes(residual, quiet).againstShorter()).isEmpty();
        assertThat(new PastOutcomes(quiet, residual).againstShorter()).containsExactly("residual");
        assertThat(new PastOutcomes(quiet, harmed).againstShorter()).containsExactly("stopped", "harmed");
        assertThat(new PastOutcomes(quiet, unknown).againstShorter()).containsExactly("not_recorded");
    }
}
