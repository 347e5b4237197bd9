package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.review.ListedVisit;
import org.junit.jupiter.api.Test;

class SessionMinutesTest {

    private static final String DAY = "2026-03-03";

    @Test
    void adds_up_overtime_idle_minutes_and_use_of_a_small_day() {
        // Session 09:00 to 12:00 with a break 10:30 to 10:45: 165 minutes. Filled inside: 09:05 to 09:30 (25), 09:30 to
        // 10:30 of the visit that runs into the break until 10:35 (60), 11:40 to 12:00 of the last, ready 12:08 (20).
        List<MeasuredVisit> visits = List.of(
                visit("09:00", "09:05", "09:26", "09:30"),
                visit("09:30", "09:30", "10:31", "10:35"),
                visit("11:40", "11:40", "12:03", "12:08"),
                ListedVisit.on(DAY).booked("11:00", "11:40").absent().visit());
        SessionMinutes minutes = SessionMinutes.of(visits, List.of(morning(DAY)), ListedVisit.LONDON);
        assertThat(minutes.sessions()).isEqualTo(1);
        assertThat(minutes.endedLate()).isEqualTo(new Share(1, 1));
        assertThat(minutes.overtime()).isEqualTo(8);
        assertThat(minutes.idle()).isEqualTo(60);
        assertThat(minutes.utilisation()).isCloseTo(105.0 / 165, within(1e-12));
        assertThat(minutes.outside()).isZero();
    }

    @Test
    void counts_two_patients_at_once_once() {
        List<MeasuredVisit> visits =
                List.of(visit("09:00", "09:00", "09:40", "09:45"), visit("09:20", "09:10", "09:25", "09:30"));
        SessionMinutes minutes = SessionMinutes.of(visits, List.of(morning(DAY)), ListedVisit.LONDON);
        assertThat(minutes.idle()).isEqualTo(165 - 45);
        assertThat(minutes.overtime()).isZero();
    }

    @Test
    void says_which_visits_belong_to_no_session_and_leaves_empty_sessions_out() {
        List<MeasuredVisit> visits = List.of(visit("14:00", "14:00", "14:20", "14:24"));
        SessionMinutes minutes = SessionMinutes.of(visits, List.of(morning(DAY)), ListedVisit.LONDON);
        assertThat(minutes.outside()).isEqualTo(1);
        assertThat(minutes.sessions()).isZero();
        assertThat(minutes.utilisation()).isNull();
    }

    @Test
    void measures_a_session_across_the_clock_change_in_real_minutes() {
        // 00:30 to 03:00 in London on 29 March 2026 is 90 minutes, since the hour from 01:00 is skipped.
        ClinicSession night = new ClinicSession(
                UUID.randomUUID(),
                ListedVisit.P1,
                UUID.randomUUID(),
                LocalDate.parse("2026-03-29"),
                new TimeSpan(LocalTime.of(0, 30), LocalTime.of(3, 0)),
                Optional.empty());
        MeasuredVisit visit = ListedVisit.on("2026-03-29")
                .booked("00:30", "03:00")
                .inRoom("00:30", "02:15", "02:15")
                .visit();
        SessionMinutes minutes = SessionMinutes.of(List.of(visit), List.of(night), ListedVisit.LONDON);
        assertThat(minutes.idle()).isEqualTo(45);
        assertThat(minutes.utilisation()).isEqualTo(0.5);
    }

    private static MeasuredVisit visit(String booked, String calledIn, String finished, String ready) {
        return ListedVisit.on(DAY)
                .booked(booked, "12:00")
                .inRoom(calledIn, finished, ready)
                .visit();
    }

    private static ClinicSession morning(String date) {
        return new ClinicSession(
                UUID.randomUUID(),
                ListedVisit.P1,
                UUID.randomUUID(),
                LocalDate.parse(date),
                new TimeSpan(LocalTime.of(9, 0), LocalTime.of(12, 0)),
                Optional.of(new TimeSpan(LocalTime.of(10, 30), LocalTime.of(10, 45))));
    }
}
