package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.UUID;
import org.earslot.ear.Attendance;
import org.earslot.review.VisitRows;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What the database says of each visit's neighbours, on both databases. */
class MeasuredVisitsTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);

    abstract static class Measuring {

        @Autowired
        private TestClinics clinics;

        @Autowired
        private MeasuredVisits measured;

        @Autowired
        private JdbcClient database;

        private TestClinic clinic;
        private VisitRows rows;

        @BeforeEach
        void a_clinic() {
            clinic = clinics.open();
            rows = new VisitRows(database, clinic.id());
        }

        @Test
        void measures_against_the_next_booked_start_of_the_same_practitioner() {
            rows.add(clinic.p1(), DAY, "09:00", 20, "09:00", "09:22", "09:26");
            rows.add(clinic.p2(), DAY, "09:10", 20, "09:10", "09:20", "09:24");
            rows.add(clinic.p1(), DAY, "09:30", 20, "09:30", "09:52", "09:56");
            rows.add(clinic.p1(), DAY.plusDays(1), "09:40", 20, "09:40", "09:50", "09:54");
            List<MeasuredVisit> list = day(Scope.EVERYONE);
            // 09:26 is before 09:30; 09:56 is 6 minutes past the last slot's end; 09:24 is before 09:30, its own end.
            assertThat(list).extracting(visit -> visit.over().orElseThrow()).containsExactly(0.0, 6.0, 0.0);
            assertThat(list).extracting(MeasuredVisit::practitioner).containsExactly("P1", "P1", "P2");
        }

        @Test
        void passes_over_cancelled_visits_and_fit_ins_but_not_over_absent_patients() {
            rows.add(clinic.p1(), DAY, "09:00", 20, "09:00", "09:31", "09:35");
            rows.addAttendance(clinic.p1(), DAY, "09:20", Attendance.CANCELLED_BY_PATIENT);
            rows.addFitIn(clinic.p1(), DAY, "09:35", "09:45", "09:48");
            rows.addAttendance(clinic.p1(), DAY, "09:30", Attendance.DID_NOT_ATTEND);
            List<MeasuredVisit> list = day(Scope.EVERYONE);
            assertThat(list).hasSize(3);
            assertThat(list.get(0).over()).hasValue(5);
            assertThat(list.stream().filter(MeasuredVisit::fitIn))
                    .singleElement()
                    .satisfies(fitIn -> assertThat(fitIn.over()).isEmpty());
            assertThat(measured.cancelled(clinic.id(), DAY, DAY, Scope.EVERYONE))
                    .isEqualTo(new MeasuredVisits.Cancelled(1, 0));
            assertThat(measured.cancelled(clinic.id(), DAY, DAY, new Scope(clinic.p2())))
                    .isEqualTo(new MeasuredVisits.Cancelled(0, 0));
        }

        @Test
        void looks_to_the_next_later_start_where_two_are_booked_to_the_same_minute() {
            rows.add(clinic.p1(), DAY, "09:00", 20, "09:00", "09:15", "09:18");
            rows.add(clinic.p1(), DAY, "09:00", 20, "09:18", "09:35", "09:41");
            rows.add(clinic.p1(), DAY, "09:40", 20, "09:41", "09:55", "09:58");
            assertThat(day(Scope.EVERYONE))
                    .extracting(visit -> visit.over().orElseThrow())
                    .containsExactlyInAnyOrder(0.0, 1.0, 0.0);
        }

        @Test
        void keeps_the_wall_clock_on_the_days_of_clock_change() {
            LocalDate spring = LocalDate.of(2026, 3, 29);
            // 00:45 to 02:20 is 35 minutes there: the hour from 01:00 is skipped; the slot of 30 ends at 02:15.
            rows.add(clinic.p1(), spring, "00:45", 30, "00:45", "02:18", "02:20");
            MeasuredVisit visit = measured.between(clinic.id(), spring, spring, Scope.EVERYONE)
                    .get(0);
            assertThat(visit.inRoom()).hasValue(33);
            assertThat(visit.over()).hasValue(5);
        }

        @Test
        void shows_neither_another_clinic_nor_another_practitioner() {
            TestClinic other = clinics.open();
            rows.add(clinic.p1(), DAY, "09:00", 20, "09:00", "09:15", "09:18");
            rows.add(clinic.p2(), DAY, "09:00", 20, "09:00", "09:15", "09:18");
            assertThat(measured.between(other.id(), DAY, DAY, Scope.EVERYONE)).isEmpty();
            assertThat(measured.lastBefore(other.id(), DAY.plusDays(1), Scope.EVERYONE))
                    .isEmpty();
            assertThat(day(new Scope(clinic.p2())))
                    .extracting(MeasuredVisit::practitionerId)
                    .containsExactly(clinic.p2());
            assertThat(day(new Scope(UUID.randomUUID()))).isEmpty();
            assertThat(measured.lastBefore(clinic.id(), DAY.plusDays(1), Scope.EVERYONE))
                    .hasValue(DAY);
            assertThat(measured.lastBefore(clinic.id(), DAY, Scope.EVERYONE)).isEmpty();
        }

        @Test
        void counts_and_sums_by_day_what_the_visits_say_one_by_one() {
            rows.add(clinic.p1(), DAY, "09:00", 20, "09:03", "09:31", "09:35");
            rows.add(clinic.p1(), DAY, "09:30", 20, "09:41", "09:49", "09:52");
            rows.addFitIn(clinic.p1(), DAY, "09:52", "10:10", "10:12");
            rows.addAttendance(clinic.p1(), DAY, "10:00", Attendance.ATTENDED);
            rows.addAttendance(clinic.p1(), DAY, "10:20", Attendance.DID_NOT_ATTEND);
            rows.addAttendance(clinic.p1(), DAY, "10:40", Attendance.CANCELLED_BY_CLINIC);
            List<MeasuredVisit> list = day(Scope.EVERYONE);
            List<DayFigures> days =
                    DayFigures.of(list, List.of(), ZoneOffset.UTC, BookedEstimates.of(list), method -> 0);
            assertThat(days).hasSize(1);
            MonthTotals figures = days.get(0).figures();
            assertThat(figures.seen()).isEqualTo(4);
            assertThat(figures.absent()).isEqualTo(1);
            // Waits 3 and 11 minutes; the fit-in's arrival was not recorded, so its wait is not known.
            assertThat(figures.waits()).isEqualTo(2);
            assertThat(figures.waitSum()).isCloseTo(14, within(1e-9));
            assertThat(figures.late()).isEqualTo(1);
            assertThat(figures.measured()).isEqualTo(2);
            assertThat(figures.overran()).isEqualTo(1);
            assertThat(figures.overSum()).isCloseTo(5, within(1e-9));
            assertThat(list.stream()
                            .flatMapToDouble(visit -> visit.waited().stream())
                            .sum())
                    .isEqualTo(14);
            assertThat(list.stream()
                            .flatMapToDouble(visit -> visit.over().stream())
                            .sum())
                    .isEqualTo(5);
        }

        private List<MeasuredVisit> day(Scope whose) {
            return measured.between(clinic.id(), DAY, DAY, whose);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Measuring {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Measuring {}
}
