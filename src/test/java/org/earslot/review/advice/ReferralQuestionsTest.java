package org.earslot.review.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.when;

import java.time.YearMonth;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.IntStream;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Estimates are asked for once for each plan and version of the fit. */
class ReferralQuestionsTest {

    private static final ClinicId CLINIC = new ClinicId(new UUID(0, 1));

    private final Estimates estimates = mock(Estimates.class);
    private String version = "first";
    private int estimated;
    private List<VisitPlan> sample = List.of();
    private final ReferralQuestions questions = new ReferralQuestions(mock(JdbcClient.class), estimates) {
        @Override
        int booked(ClinicId clinicId, YearMonth month) {
            return sample.size();
        }

        @Override
        List<VisitPlan> sampled(ClinicId clinicId, YearMonth month, int visits) {
            return sample;
        }
    };

    @BeforeEach
    void an_estimator() {
        when(estimates.version(CLINIC)).thenAnswer(asked -> version);
        when(estimates.estimateAll(any(), any())).thenAnswer(asked -> {
            List<VisitPlan> plans = asked.getArgument(1);
            estimated += plans.size();
            return plans.stream().map(plan -> estimate()).toList();
        });
    }

    @Test
    void a_plan_is_estimated_again_only_after_another_fit() {
        assertThat(estimatedFor(10)).isEqualTo(10);
        assertThat(estimatedFor(12)).isEqualTo(2);
        version = "second";
        assertThat(estimatedFor(12)).isEqualTo(12);
    }

    @Test
    void holds_no_more_answers_than_its_size() {
        int asked = ReferralQuestions.MAXIMUM_SIZE + 100;
        estimatedFor(asked);
        assertThat(estimatedFor(asked)).isBetween(100, asked - 1);
    }

    private int estimatedFor(int plans) {
        estimated = 0;
        sample = IntStream.range(0, plans)
                .mapToObj(number -> new VisitPlan(
                        null,
                        null,
                        Method.MICROSUCTION,
                        Ears.BOTH,
                        Answer.NOT_KNOWN,
                        Answer.NOT_KNOWN,
                        Set.of(),
                        number,
                        Map.of(),
                        null))
                .toList();
        assertThat(questions.upTo(CLINIC, YearMonth.of(2026, 2)).sampled()).isEqualTo(plans);
        return estimated;
    }

    private Estimate estimate() {
        LogNormalMinutes time = LogNormalMinutes.ofMoments(20, 7);
        return new Estimate(version, time, time, 25, 4, List.of(), List.of(), Estimate.RestsOn.visits(0), 0);
    }
}
