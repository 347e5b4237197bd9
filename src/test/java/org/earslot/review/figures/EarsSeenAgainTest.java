package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import org.earslot.ear.Attendance;
import org.earslot.review.VisitRows;
import org.earslot.review.figures.Repeats.Line;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Ears that came back, on both databases. */
class EarsSeenAgainTest {

    private static final LocalDate MARCH = LocalDate.of(2026, 3, 1);

    abstract static class Counting {

        @Autowired
        private TestClinics clinics;

        @Autowired
        private EarsSeenAgain seenAgain;

        @Autowired
        private JdbcClient database;

        private TestClinic clinic;
        private VisitRows rows;

        @BeforeEach
        void a_clinic() {
            clinic = clinics.open();
            rows = new VisitRows(database, clinic.id());
        }

        /** A visit of one patient and these ears. */
        private void seen(String patient, String ears, LocalDate day) {
            rows.add(clinic.p1(), day, "09:00", 20, "09:00", "09:12", "09:15");
            database.sql("update visit set patient_ref = ?, ears = ? where clinic_id = ? and patient_ref = 'K1'")
                    .params(patient, ears, clinic.id().value())
                    .update();
        }

        private Repeats march(Scope whose) {
            return seenAgain.between(clinic.id(), MARCH, LocalDate.of(2026, 3, 31), whose);
        }

        @Test
        void counts_each_ear_by_what_was_done_to_that_ear() {
            seen("A", "right", MARCH.minusDays(30));
            seen("A", "both", MARCH);
            seen("B", "left", MARCH.plusDays(3));
            seen("B", "left", MARCH.plusDays(10));
            seen("C", "right", MARCH.plusDays(3));
            // Ears of March: A right (again) and left, B left and left (again), C right.
            assertThat(march(Scope.EVERYONE).lines())
                    .containsExactly(new Line("", new Share(2, 5)), new Line("microsuction", new Share(2, 5)));
        }

        @Test
        void forgets_what_is_longer_ago_than_90_days() {
            seen("A", "right", MARCH.minusDays(90));
            seen("A", "right", MARCH);
            seen("B", "right", MARCH.minusDays(91));
            seen("B", "right", MARCH);
            assertThat(march(Scope.EVERYONE).lines().get(0).repeats()).isEqualTo(new Share(1, 2));
        }

        @Test
        void counts_nobody_who_did_not_come_and_no_other_clinic() {
            rows.addAttendance(clinic.p1(), MARCH.minusDays(5), "09:00", Attendance.DID_NOT_ATTEND);
            rows.add(clinic.p1(), MARCH, "09:00", 20, "09:00", "09:12", "09:15");
            TestClinic other = clinics.open();
            new VisitRows(database, other.id())
                    .add(other.p1(), MARCH.minusDays(7), "09:00", 20, "09:00", "09:12", "09:15");
            assertThat(march(Scope.EVERYONE).lines().get(0).repeats()).isEqualTo(new Share(0, 1));
        }

        @Test
        void tells_a_practitioner_of_the_own_visits_whoever_saw_the_ear_before() {
            rows.add(clinic.p2(), MARCH.minusDays(9), "09:00", 20, "09:00", "09:12", "09:15");
            rows.add(clinic.p1(), MARCH, "09:00", 20, "09:00", "09:12", "09:15");
            assertThat(march(new Scope(clinic.p1())).lines().get(0).repeats()).isEqualTo(new Share(1, 1));
            assertThat(march(new Scope(clinic.p2())).lines()).isEmpty();
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Counting {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Counting {}
}
