package org.earslot.diary;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.ear.Method.IRRIGATION;
import static org.earslot.ear.Method.MANUAL_REMOVAL;
import static org.earslot.ear.Method.MICROSUCTION;

import java.util.List;
import java.util.Map;
import java.util.Set;
import org.earslot.diary.Attempts.Count;
import org.earslot.diary.Attempts.Tried;
import org.earslot.diary.SoftenerAdvice.Besides;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Outcome;
import org.earslot.referral.AskedCaution;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.ReferralDetails;
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

    /** Not with a suspected perforation; nut-oil allergy: not that softener (MSD Manual). */
    @Test
    void leaves_softener_alone_where_the_drum_may_be_open() {
        assertThat(advice(IRRIGATION, Set.of(), Caution.TINNITUS)).isEqualTo(new SoftenerAdvice(true, Set.of()));
        assertThat(advice(IRRIGATION, Set.of(), Caution.PERFORATION))
                .isEqualTo(new SoftenerAdvice(false, Set.of(Besides.NOT_IN_THIS_EAR)));
        assertThat(advice(MICROSUCTION, Set.of(Caution.GROMMET)))
                .isEqualTo(new SoftenerAdvice(false, Set.of(Besides.NOT_IN_THIS_EAR)));
        assertThat(advice(MICROSUCTION, Set.of(), Caution.SOFTENER_ALLERGY))
                .isEqualTo(new SoftenerAdvice(true, Set.of(Besides.NOT_WHAT_YOU_ARE_ALLERGIC_TO)));
        assertThat(advice(MANUAL_REMOVAL, Set.of(), Caution.SOFTENER_ALLERGY).besides())
                .isEmpty();
    }

    @Test
    void minds_a_perforation_only_in_an_ear_that_is_treated() {
        ReferralDetails left = said(Ears.LEFT, Set.of(), new AskedCaution(Caution.PERFORATION, Ear.RIGHT, null));
        assertThat(SoftenerAdvice.of(left, IRRIGATION).byMethod()).isTrue();
        ReferralDetails both = said(Ears.BOTH, Set.of(), new AskedCaution(Caution.PERFORATION, Ear.RIGHT, null));
        assertThat(SoftenerAdvice.of(both, IRRIGATION).byMethod()).isFalse();
    }

    private static SoftenerAdvice advice(Method method, Set<Caution> notKnown, Caution... cautions) {
        AskedCaution[] asked = java.util.Arrays.stream(cautions)
                .map(caution -> new AskedCaution(caution, null, null))
                .toArray(AskedCaution[]::new);
        return SoftenerAdvice.of(said(Ears.BOTH, notKnown, asked), method);
    }

    private static ReferralDetails said(Ears ears, Set<Caution> notKnown, AskedCaution... cautions) {
        return new ReferralDetails(
                null,
                DiaryFixture.WEDNESDAY,
                null,
                Priority.ROUTINE,
                ears,
                IRRIGATION,
                Answer.NOT_KNOWN,
                null,
                null,
                null,
                null,
                null,
                null,
                true,
                List.of(cautions),
                Map.of(),
                Map.of(),
                notKnown,
                Origin.REFERRAL,
                Answer.NOT_KNOWN);
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
