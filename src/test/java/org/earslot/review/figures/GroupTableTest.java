package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.earslot.review.ListedVisit;
import org.junit.jupiter.api.Test;

class GroupTableTest {

    @Test
    void counts_each_group_in_the_order_of_its_scale() {
        List<MeasuredVisit> visits = new ArrayList<>();
        visits.addAll(visits(20, 15, Method.MANUAL_REMOVAL));
        visits.addAll(visits(40, 4, Method.MICROSUCTION));
        GroupTable table = table(Dimension.METHOD, visits);
        assertThat(table.lines()).extracting(GroupLine::group).containsExactly("microsuction", "manual_removal");
        GroupLine suction = table.lines().get(0);
        GroupLine hand = table.lines().get(1);
        assertThat(suction.overruns()).isEqualTo(new Share(4, 40));
        assertThat(hand.overruns()).isEqualTo(new Share(15, 20));
        assertThat(hand.minutesOver()).isEqualTo(6);
        assertThat(hand.comparedWithTheRest().verdict()).isEqualTo(Change.Verdict.MORE);
        assertThat(suction.comparedWithTheRest().verdict()).isEqualTo(Change.Verdict.LESS);
        assertThat(hand.waitsCaused()).isZero();
    }

    @Test
    void pools_small_groups_and_compares_none_of_them() {
        List<MeasuredVisit> visits = new ArrayList<>();
        visits.addAll(visits(GroupTable.SMALL, 3, Method.MICROSUCTION));
        visits.addAll(visits(GroupTable.SMALL - 1, 11, Method.MANUAL_REMOVAL));
        visits.addAll(visits(2, 2, Method.IRRIGATION));
        GroupTable table = table(Dimension.METHOD, visits);
        assertThat(table.lines()).hasSize(2);
        GroupLine pool = table.lines().get(1);
        assertThat(pool.pooled()).containsExactly("irrigation", "manual_removal");
        assertThat(pool.overruns()).isEqualTo(new Share(13, 13));
        assertThat(pool.comparedWithTheRest().verdict()).isEqualTo(Change.Verdict.NOT_KNOWN);
    }

    @Test
    void marks_a_single_small_group_under_its_own_name() {
        GroupTable table = table(Dimension.METHOD, visits(3, 3, Method.IRRIGATION));
        assertThat(table.lines()).hasSize(1);
        assertThat(table.lines().get(0).group()).isEqualTo("irrigation");
        assertThat(table.lines().get(0).small()).isTrue();
    }

    @Test
    void counts_a_visit_under_what_either_ear_held_but_once_in_a_pool() {
        List<MeasuredVisit> visits = new ArrayList<>();
        for (int i = 0; i < 5; i++) {
            visits.add(overrun(Method.MANUAL_REMOVAL).found(Wax.HARD, Wax.LOOSE).visit());
        }
        GroupTable table = table(Dimension.WAX, visits);
        assertThat(table.overlapping()).isTrue();
        assertThat(table.lines()).hasSize(1);
        assertThat(table.lines().get(0).pooled()).containsExactly("loose", "hard");
        assertThat(table.lines().get(0).overruns()).isEqualTo(new Share(5, 5));
    }

    @Test
    void puts_the_not_known_last_and_sums_the_waits_caused() {
        List<MeasuredVisit> visits = new ArrayList<>();
        for (int i = 0; i < GroupTable.SMALL; i++) {
            visits.add(overrun(Method.MICROSUCTION).visit());
            visits.add(overrun(Method.MICROSUCTION).found(Wax.FIRM).visit());
        }
        UUID first = visits.get(0).id();
        UUID second = visits.get(1).id();
        GroupTable table = GroupTable.of(Dimension.WAX, visits, Map.of(first, 4.5, second, 8.0), ListedVisit.LONDON);
        assertThat(table.lines()).extracting(GroupLine::group).containsExactly("firm", "");
        assertThat(table.lines()).extracting(GroupLine::waitsCaused).containsExactly(8.0, 4.5);
    }

    @Test
    void groups_by_the_hour_on_the_clinics_clock() {
        // 09:30 in London on a day of summer time is 08:30 UTC.
        MeasuredVisit visit = ListedVisit.on("2026-07-01")
                .booked("09:30", "09:50")
                .inRoom("09:30", "09:45", "09:48")
                .visit();
        assertThat(table(Dimension.HOUR, List.of(visit)).lines().get(0).group()).isEqualTo("09:00");
    }

    private static GroupTable table(Dimension by, List<MeasuredVisit> visits) {
        return GroupTable.of(by, visits, Map.of(), ListedVisit.LONDON);
    }

    private static List<MeasuredVisit> visits(int count, int overrunning, Method method) {
        List<MeasuredVisit> visits = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            visits.add((i < overrunning ? overrun(method) : inTime(method)).visit());
        }
        return visits;
    }

    private static ListedVisit overrun(Method method) {
        return ListedVisit.on("2026-03-03")
                .of(method, Ears.BOTH)
                .booked("09:00", "09:20")
                .inRoom("09:00", "09:22", "09:26");
    }

    private static ListedVisit inTime(Method method) {
        return ListedVisit.on("2026-03-03")
                .of(method, Ears.BOTH)
                .booked("09:00", "09:20")
                .inRoom("09:00", "09:16", "09:20");
    }
}
