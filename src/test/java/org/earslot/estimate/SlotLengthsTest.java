package org.earslot.estimate;

import static org.assertj.core.api.Assertions.assertThat;

import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.junit.jupiter.api.Test;

class SlotLengthsTest {

    private static PolicyTerms policy(int grid, double overruns, int least, int most) {
        return new PolicyTerms(grid, overruns, 0.2, least, most, 15, 5, 3, 4, 5);
    }

    @Test
    void hold_the_time_in_room_at_the_accepted_share_and_the_turnaround_of_the_method() {
        // 80 % point of mean 20, sd 8 is 25.68 (R 4.2.2 qlnorm); turnaround 5 by hand makes 30.68, on the grid 35.
        LogNormalMinutes twenty = LogNormalMinutes.ofMoments(20, 8);
        assertThat(SlotLengths.minutes(twenty, Method.MANUAL_REMOVAL, Ears.RIGHT, policy(5, 0.2, 10, 90)))
                .isEqualTo(35);
        assertThat(SlotLengths.minutes(twenty, Method.IRRIGATION, Ears.RIGHT, policy(5, 0.2, 10, 90)))
                .isEqualTo(30);
        assertThat(SlotLengths.minutes(twenty, Method.IRRIGATION, Ears.RIGHT, policy(1, 0.2, 10, 90)))
                .isEqualTo(29);
    }

    @Test
    void stay_on_the_grid_line_they_meet() {
        assertThat(SlotLengths.minutes(new FixedMinutes(21), Method.MICROSUCTION, Ears.RIGHT, policy(5, 0.25, 10, 90)))
                .isEqualTo(25);
    }

    @Test
    void stay_within_the_least_and_the_most() {
        assertThat(SlotLengths.minutes(new FixedMinutes(2), Method.MICROSUCTION, Ears.RIGHT, policy(5, 0.25, 15, 90)))
                .isEqualTo(15);
        assertThat(SlotLengths.minutes(new FixedMinutes(120), Method.MICROSUCTION, Ears.RIGHT, policy(5, 0.25, 15, 60)))
                .isEqualTo(60);
    }
}
