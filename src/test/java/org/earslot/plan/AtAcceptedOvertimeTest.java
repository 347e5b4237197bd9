package org.earslot.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.flow.plan.TradeOff.Point;
import org.earslot.flow.plan.TradeOff.Policy;
import org.earslot.plan.SessionPlans.Part;
import org.junit.jupiter.api.Test;

class AtAcceptedOvertimeTest {

    private static final List<Point> POINTS = List.of(
            new Point(Policy.FIXED_SLOTS, 10, 8, 20, 9, 30, 0.5),
            new Point(Policy.FIXED_SLOTS, 8, 4, 10, 1, 40, 0.1),
            new Point(Policy.OFFERS, 8, 3, 9, 1, 40, 0.1));

    @Test
    void reads_straight_between_the_numbers_of_visits() {
        assertThat(AtAcceptedOvertime.of(POINTS, Policy.FIXED_SLOTS, 0.2))
                .contains(new AtAcceptedOvertime(Policy.FIXED_SLOTS, 8.5, 5, 12.5, 3, false));
    }

    @Test
    void says_where_it_may_be_more_and_where_nothing_fits() {
        assertThat(AtAcceptedOvertime.of(POINTS, Policy.OFFERS, 0.2))
                .contains(new AtAcceptedOvertime(Policy.OFFERS, 8, 3, 9, 1, true));
        assertThat(AtAcceptedOvertime.of(POINTS, Policy.FIXED_SLOTS, 0.05)).isEmpty();
        assertThat(AtAcceptedOvertime.of(POINTS, Policy.STARTS_TOGETHER, 0.2)).isEmpty();
    }

    @Test
    void the_first_visits_of_a_plan_hold_each_kind_in_proportion() {
        List<Integer> order = SessionPlans.interleaved(
                List.of(new Part(Method.MICROSUCTION, Ears.BOTH, 8), new Part(Method.IRRIGATION, Ears.RIGHT, 4)));
        assertThat(order).hasSize(12);
        for (int first = 3; first <= 12; first += 3) {
            assertThat(order.subList(0, first).stream().filter(part -> part == 1))
                    .hasSize(first / 3);
        }
    }
}
