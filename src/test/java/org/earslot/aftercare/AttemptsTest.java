package org.earslot.aftercare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.ear.Method.IRRIGATION;
import static org.earslot.ear.Method.MANUAL_REMOVAL;
import static org.earslot.ear.Method.MICROSUCTION;

import java.util.List;
import java.util.Map;
import org.earslot.aftercare.Attempts.Count;
import org.earslot.aftercare.Attempts.Tried;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Outcome;
import org.earslot.visit.EarRecord;
import org.junit.jupiter.api.Test;

class AttemptsTest {

    @Test
    void counts_each_try_by_method_since_the_ear_was_clear() {
        List<Tried> latestFirst = List.of(
                decided(NextStep.COME_AGAIN, Outcome.RESIDUAL, IRRIGATION, IRRIGATION),
                record(Outcome.NOT_ATTEMPTED),
                record(Outcome.NOT_REMOVED, MICROSUCTION, MANUAL_REMOVAL),
                record(Outcome.CLEAR, IRRIGATION),
                record(Outcome.RESIDUAL, IRRIGATION));
        assertThat(Attempts.sinceClear(latestFirst))
                .isEqualTo(Map.of(
                        IRRIGATION, new Count(2, 2), MICROSUCTION, new Count(1, 1), MANUAL_REMOVAL, new Count(1, 1)));
    }

    /** Guidance counts attempts and not visits: called in again after water was instilled, the patient has had two. */
    @Test
    void counts_a_second_irrigation_at_the_same_visit() {
        assertThat(Attempts.sinceClear(List.of(again(Outcome.NOT_REMOVED, IRRIGATION))))
                .isEqualTo(Map.of(IRRIGATION, new Count(2, 2)));
        assertThat(Attempts.sinceClear(List.of(again(Outcome.NOT_REMOVED, IRRIGATION, IRRIGATION, MICROSUCTION))))
                .isEqualTo(Map.of(IRRIGATION, new Count(2, 2), MICROSUCTION, new Count(1, 1)));
        assertThat(Attempts.sinceClear(List.of(again(null, IRRIGATION))))
                .isEqualTo(Map.of(IRRIGATION, new Count(2, 1)));
        assertThat(Attempts.sinceClear(List.of(again(Outcome.NOT_REMOVED, MICROSUCTION))))
                .isEqualTo(Map.of(MICROSUCTION, new Count(1, 1)));
    }

    /** A little wax left is often right (common practice, no source): the practitioner decides. */
    @Test
    void takes_wax_left_behind_for_a_failure_only_if_more_is_to_be_done() {
        assertThat(Attempts.sinceClear(List.of(record(Outcome.RESIDUAL, IRRIGATION))))
                .isEqualTo(Map.of(IRRIGATION, new Count(1, 0)));
        assertThat(Attempts.sinceClear(List.of(decided(NextStep.REFER_ON, Outcome.RESIDUAL, IRRIGATION))))
                .isEqualTo(Map.of(IRRIGATION, new Count(1, 1)));
        assertThat(Attempts.sinceClear(List.of(
                        decided(NextStep.ENOUGH, Outcome.RESIDUAL, IRRIGATION),
                        record(Outcome.NOT_REMOVED, IRRIGATION))))
                .isEmpty();
        assertThat(Attempts.sinceClear(List.of(decided(NextStep.ENOUGH, Outcome.NOT_REMOVED, IRRIGATION))))
                .isEqualTo(Map.of(IRRIGATION, new Count(1, 1)));
    }

    @Test
    void fails_nothing_whose_outcome_is_not_known() {
        assertThat(Attempts.sinceClear(List.of(record(null, IRRIGATION))))
                .isEqualTo(Map.of(IRRIGATION, new Count(1, 0)));
        assertThat(Attempts.sinceClear(List.of())).isEmpty();
    }

    /** After two that failed: another method or refer on (NICE NG98). */
    @Test
    void is_spent_after_the_second_irrigation_that_failed() {
        assertThat(Attempts.irrigationSpent(Map.of(IRRIGATION, new Count(2, 1))))
                .isFalse();
        assertThat(Attempts.irrigationSpent(Map.of(IRRIGATION, new Count(2, 2))))
                .isTrue();
        assertThat(Attempts.irrigationSpent(Map.of(MICROSUCTION, new Count(3, 3))))
                .isFalse();
    }

    private static Tried record(Outcome outcome, Method... methods) {
        return decided(null, outcome, methods);
    }

    private static Tried decided(NextStep step, Outcome outcome, Method... methods) {
        return new Tried(new EarRecord(List.of(methods), EarFindings.UNKNOWN, outcome, null), false, step);
    }

    private static Tried again(Outcome outcome, Method... methods) {
        return new Tried(new EarRecord(List.of(methods), EarFindings.UNKNOWN, outcome, null), true, null);
    }
}
