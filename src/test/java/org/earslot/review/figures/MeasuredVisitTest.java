package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;

import org.earslot.review.ListedVisit;
import org.junit.jupiter.api.Test;

class MeasuredVisitTest {

    private static final String DAY = "2026-03-03";

    @Test
    void waits_from_the_booked_start_where_the_patient_came_before_it() {
        MeasuredVisit visit = ListedVisit.on(DAY)
                .booked("09:00", "09:20")
                .arrived("08:50")
                .inRoom("09:07", "09:25", "09:29")
                .visit();
        assertThat(visit.waited()).hasValue(7);
        assertThat(visit.over()).hasValue(9);
        assertThat(visit.inRoom()).hasValue(18);
    }

    @Test
    void waits_from_the_arrival_where_the_patient_came_late() {
        MeasuredVisit visit = ListedVisit.on(DAY)
                .booked("09:00", "09:20")
                .arrived("09:12")
                .inRoom("09:15", "09:20", "09:20")
                .visit();
        assertThat(visit.waited()).hasValue(3);
        assertThat(visit.over()).hasValue(0);
    }

    @Test
    void does_not_wait_when_called_in_early() {
        MeasuredVisit visit = ListedVisit.on(DAY)
                .booked("09:00", "09:20")
                .arrived("08:40")
                .inRoom("08:52", "09:10", "09:14")
                .visit();
        assertThat(visit.waited()).hasValue(0);
        assertThat(visit.over()).hasValue(0);
    }

    @Test
    void has_no_overrun_without_a_slot_or_without_times() {
        MeasuredVisit fitIn = ListedVisit.on(DAY)
                .fitIn()
                .arrived("09:00")
                .inRoom("09:05", "09:30", "09:33")
                .visit();
        MeasuredVisit untimed = ListedVisit.on(DAY).booked("09:00", "09:20").visit();
        MeasuredVisit absent =
                ListedVisit.on(DAY).booked("09:00", "09:20").absent().visit();
        assertThat(fitIn.over()).isEmpty();
        assertThat(fitIn.waited()).hasValue(5);
        assertThat(untimed.over()).isEmpty();
        assertThat(untimed.waited()).isEmpty();
        assertThat(untimed.seen()).isTrue();
        assertThat(absent.over()).isEmpty();
        assertThat(absent.seen()).isFalse();
    }

    @Test
    void counts_real_minutes_on_the_days_of_clock_change() {
        // London: the hour from 01:00 is skipped on 29 March 2026 and comes twice on 25 October 2026.
        MeasuredVisit spring = ListedVisit.on("2026-03-29")
                .booked("00:50", "02:05")
                .inRoom("00:50", "02:10", "02:10")
                .visit();
        MeasuredVisit autumn = ListedVisit.on("2026-10-25")
                .booked("00:50", "02:05")
                .inRoom("00:50", "02:10", "02:10")
                .visit();
        assertThat(spring.inRoom()).hasValue(20);
        assertThat(spring.over()).hasValue(5);
        assertThat(autumn.inRoom()).hasValue(140);
        assertThat(autumn.over()).hasValue(5);
    }

    @Test
    void leaves_out_the_minutes_outside_between_two_tries() {
        MeasuredVisit twice = ListedVisit.on("2026-03-03")
                .booked("09:00", "09:40")
                .inRoom("09:00", "09:38", "09:42")
                .outside(15)
                .visit();
        assertThat(twice.inRoom()).hasValue(23);
        // The practitioner's list stood by the clock: the overrun is as it was.
        assertThat(twice.over()).hasValue(2);
    }
}
