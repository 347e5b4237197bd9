package org.earslot.estimate.habits;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.earslot.ear.Answer;
import org.junit.jupiter.api.Test;

/** Who comes and when, drawn towards what is assumed of any clinic. */
class AttendanceModelTest {

    private static AttendanceCounts counts(int first, int firstAbsent, int followUp, int followUpAbsent) {
        return new AttendanceCounts(first, firstAbsent, followUp, followUpAbsent, 0, 0, Map.of());
    }

    @Test
    void withoutVisitsTheAssumptionStands() {
        assertThat(AttendanceModel.ASSUMED.absentAtFirst())
                .isEqualTo(AttendanceModel.ASSUMED.absent())
                .isCloseTo(0.06, within(1e-12));
        assertThat(AttendanceModel.ASSUMED.meanEarly()).isCloseTo(7, within(0.01));
        assertThat(AttendanceModel.ASSUMED.sinceEarliest().standardDeviation()).isCloseTo(8, within(0.01));
        assertThat(AttendanceModel.ASSUMED.restsOnVisits()).isZero();
    }

    /** (0.06 x 60 + 12) / (60 + 100) = 0.0975 of all; of first visits (0.0975 x 150 + 10) / (150 + 50) = 0.123125. */
    @Test
    void aShareIsDrawnTowardsTheOneOfAllVisits() {
        AttendanceModel coming = AttendanceModel.of(counts(50, 10, 50, 2));
        assertThat(coming.absent()).isCloseTo(0.0975, within(1e-12));
        assertThat(coming.absentAtFirst()).isCloseTo(0.123125, within(1e-12));
        assertThat(coming.absentAtFollowUp()).isCloseTo((0.0975 * 150 + 2) / 200, within(1e-12));
        assertThat(coming.absent(Answer.NOT_KNOWN)).isEqualTo(coming.absent());
        assertThat(coming.absent(Answer.YES)).isEqualTo(coming.absentAtFirst());
    }

    @Test
    void manyVisitsOutweighTheAssumption() {
        AttendanceModel coming = AttendanceModel.of(counts(5000, 1000, 5000, 250));
        assertThat(coming.absentAtFirst()).isCloseTo(0.2, within(0.003));
        assertThat(coming.absentAtFollowUp()).isCloseTo(0.05, within(0.003));
    }

    @Test
    void arrivalsTakeTheShapeOfThoseSeen() {
        // Two sorts of patients: most ten minutes early, one in five fifteen minutes late.
        Map<Integer, Integer> minutes = new TreeMap<>();
        Random random = new Random(5);
        int[] drawn = new int[4000];
        for (int i = 0; i < drawn.length; i++) {
            drawn[i] = (int) Math.floor(i % 5 == 0 ? 15 + 3 * random.nextGaussian() : -10 + 4 * random.nextGaussian());
            minutes.merge(drawn[i], 1, Integer::sum);
        }
        AttendanceModel coming = AttendanceModel.of(new AttendanceCounts(4000, 0, 0, 0, 0, 0, minutes));
        java.util.Arrays.sort(drawn);
        for (double probability : new double[] {0.05, 0.25, 0.5, 0.75, 0.9, 0.95}) {
            double seen = drawn[(int) (probability * drawn.length)];
            assertThat(coming.sinceEarliest().quantile(probability) - AttendanceModel.EARLIEST_MINUTES)
                    .as("at %s", probability)
                    .isCloseTo(seen, within(1.5));
        }
        double mean = java.util.Arrays.stream(drawn).average().orElseThrow();
        assertThat(-coming.meanEarly()).isCloseTo(mean, within(0.2));
    }
}
