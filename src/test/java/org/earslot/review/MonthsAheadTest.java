package org.earslot.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.Optional;
import net.javacrumbs.shedlock.core.SimpleLock;
import org.earslot.review.figures.Scope;
import org.earslot.testing.OtherServer;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;

/** The latest months are worked out before anyone reads them, by one server at a time, on both databases. */
class MonthsAheadTest {

    private static final YearMonth FEBRUARY = YearMonth.of(2026, 2);

    abstract static class Ahead {

        @Autowired
        private MonthsAhead ahead;

        @Autowired
        private JdbcTemplate jdbc;

        @Autowired
        private PlatformTransactionManager transactions;

        @Autowired
        private KeptChanges changes;

        @Autowired
        private Reviews reviews;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private JdbcClient database;

        @Autowired
        private SettableClock clock;

        private TestClinic clinic;

        @BeforeEach
        void a_month_that_has_settled() {
            clock.set(Instant.parse("2026-03-10T09:00:00Z"));
            clinic = clinics.open();
            new VisitRows(database, clinic.id())
                    .add(clinic.p1(), FEBRUARY.atDay(3), "09:00", 40, "09:00", "09:25", "09:45");
        }

        @Test
        void works_out_the_latest_months_before_they_are_read() {
            assertThat(ahead.workOut(clinic.id())).isTrue();
            for (int back = 0; back < 3; back++) {
                assertThat(changes.kept(clinic.id(), FEBRUARY.minusMonths(back)))
                        .isPresent();
            }
            // Nobody noted this: it proves that the page does not read the visits again.
            database.sql("delete from visit where clinic_id = ?")
                    .param(clinic.id())
                    .update();
            assertThat(reviews.of(clinic.id(), FEBRUARY, Scope.EVERYONE).head().visits())
                    .isEqualTo(1);
            assertThat(otherServer(Duration.ofMinutes(1))).isPresent();
        }

        @Test
        void works_out_what_older_months_come_to_as_well() {
            new VisitRows(database, clinic.id())
                    .add(clinic.p1(), LocalDate.of(2022, 5, 3), "09:00", 40, "09:00", "09:25", "09:45");
            ahead.workOut(clinic.id());
            assertThat(database.sql("select min(review_month) from month_summary where clinic_id = ?")
                            .param(clinic.id())
                            .query(String.class)
                            .single())
                    .isEqualTo("2022-05");
        }

        @Test
        void works_out_the_days_of_the_running_month_that_have_settled() {
            ahead.workOut(clinic.id());
            assertThat(database.sql("select max(visit_date) from day_summary where clinic_id = ?")
                            .param(clinic.id())
                            .query(LocalDate.class)
                            .single())
                    .isEqualTo(LocalDate.of(2026, 3, 6));
        }

        @Test
        void leaves_it_to_the_server_whose_turn_it_is() {
            SimpleLock other = otherServer(Duration.ofMinutes(1)).orElseThrow();
            assertThat(ahead.workOut(clinic.id())).isFalse();
            assertThat(changes.kept(clinic.id(), FEBRUARY)).isEmpty();
            other.unlock();
            assertThat(ahead.workOut(clinic.id())).isTrue();
        }

        @Test
        void takes_over_from_a_server_that_died() {
            assertThat(otherServer(Duration.ofMillis(700))).isPresent();
            assertThat(ahead.workOut(clinic.id())).isFalse();
            await().atMost(Duration.ofSeconds(20)).until(() -> ahead.workOut(clinic.id()));
            assertThat(changes.kept(clinic.id(), FEBRUARY)).isPresent();
        }

        @Test
        void has_nothing_to_do_where_no_visit_is_stored() {
            TestClinic fresh = clinics.open();
            assertThat(ahead.workOut(fresh.id())).isTrue();
            assertThat(changes.kept(fresh.id(), FEBRUARY)).isEmpty();
        }

        private Optional<SimpleLock> otherServer(Duration atMost) {
            return new OtherServer(jdbc, transactions).lock(MonthsAhead.lockName(clinic.id()), atMost);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Ahead {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Ahead {}
}
