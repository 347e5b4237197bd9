package org.earslot.day;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CopyOnWriteArrayList;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DayChanged;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.setup.SetUp;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.support.DefaultListableBeanFactory;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** A kept change of a day is told to every watcher, one that is taken back to none. */
class DayNoticesTest {

    private static final String WATCHER = "watcher of a test";

    /** Keeps what it is told. */
    static class Told implements DayWatcher {

        final List<DayChanged> days = new CopyOnWriteArrayList<>();

        @Override
        public void dayChanged(ClinicId clinicId, LocalDate date) {
            days.add(new DayChanged(clinicId, date));
        }

        final List<ClinicId> clinics = new CopyOnWriteArrayList<>();

        @Override
        public void diaryChanged(ClinicId clinicId) {
            clinics.add(clinicId);
        }

        @Override
        public void anyDayMayHaveChanged() {}
    }

    abstract static class Changing {

        @Autowired
        TestClinics clinics;

        @Autowired
        DiaryFixture fixture;

        @Autowired
        RunningDay running;

        @Autowired
        Booking booking;

        @Autowired
        SetUp setUp;

        @Autowired
        DefaultListableBeanFactory beans;

        final Told told = new Told();

        @Autowired
        ApplicationEventPublisher events;

        @Autowired
        PlatformTransactionManager transactions;

        TestClinic clinic;

        /** The application is shared, so it watches for the time of one test. */
        @BeforeEach
        void a_clinic_and_who_watches_it() {
            clinic = clinics.open();
            beans.registerSingleton(WATCHER, told);
            DayChanged probe = new DayChanged(clinic.id(), WEDNESDAY.minusYears(1));
            await().until(() -> {
                // Somebody who looked for watchers just before may have put the list without this one into the cache.
                beans.clearMetadataCache();
                events.publishEvent(probe);
                return told.days.contains(probe);
            });
            told.days.clear();
        }

        @AfterEach
        void watches_no_longer() {
            beans.destroySingleton(WATCHER);
        }

        @Test
        void a_booking_and_a_press_are_told() {
            LocalDate today = LocalDate.of(2026, 3, 3);
            UUID id = fixture.appointment(clinic, today.atTime(10, 0), 30);
            await().until(() -> told.days.contains(new DayChanged(clinic.id(), today)));
            told.days.clear();
            running.record(clinic.id(), id, ClockEvent.ARRIVED);
            await().until(() -> told.days.contains(new DayChanged(clinic.id(), today)));
        }

        @Test
        void a_change_of_the_set_up_is_told_of_every_day() {
            assertThat(setUp.room(clinic.id(), Optional.empty(), "R9", true)).isEmpty();
            await().until(() -> told.clinics.contains(clinic.id()));
        }

        @Test
        void a_move_is_told_of_both_days() {
            UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
            await().until(() -> told.days.contains(new DayChanged(clinic.id(), WEDNESDAY)));
            told.days.clear();
            LocalDate thursday = WEDNESDAY.plusDays(1);
            assertThat(booking.move(clinic.id(), id, 0, fixture.place(clinic, thursday.atTime(11, 0), 30)))
                    .isInstanceOf(BookingResult.Done.class);
            await().until(() -> told.days.contains(new DayChanged(clinic.id(), WEDNESDAY))
                    && told.days.contains(new DayChanged(clinic.id(), thursday)));
        }

        @Test
        void what_is_taken_back_is_told_to_nobody() {
            DayChanged lost = new DayChanged(clinic.id(), WEDNESDAY);
            DayChanged kept = new DayChanged(clinic.id(), WEDNESDAY.plusDays(1));
            TransactionTemplate transaction = new TransactionTemplate(transactions);
            transaction.executeWithoutResult(status -> {
                events.publishEvent(lost);
                status.setRollbackOnly();
            });
            transaction.executeWithoutResult(status -> events.publishEvent(kept));
            await().until(() -> told.days.contains(kept));
            assertThat(told.days).doesNotContain(lost);
        }

        @Test
        void nothing_is_told_before_the_change_is_kept() {
            DayChanged day = new DayChanged(clinic.id(), WEDNESDAY);
            new TransactionTemplate(transactions).executeWithoutResult(status -> {
                events.publishEvent(day);
                assertThat(told.days).doesNotContain(day);
            });
            await().until(() -> told.days.contains(day));
        }
    }

    @Nested
    @PageTest
    class OnTheSmallDatabase extends Changing {}

    @Nested
    @PageTestOnPostgres
    class OnTheServer extends Changing {

        @Autowired
        JdbcConnectionDetails database;

        @Test
        void a_change_on_another_server_is_told_here() throws SQLException {
            DayChanged there = new DayChanged(clinic.id(), WEDNESDAY);
            execute("select pg_notify('" + DayNotices.CHANNEL + "', '" + clinic.id() + " " + WEDNESDAY + "')");
            await().until(() -> told.days.contains(there));
        }

        @Test
        void listens_again_after_the_connection_is_lost() throws SQLException {
            int lost = listener();
            execute("select pg_terminate_backend(" + lost + ")");
            await().until(() -> listener() != lost && listener() != 0);
            DayChanged after = new DayChanged(clinic.id(), WEDNESDAY);
            await().until(() -> {
                events.publishEvent(after);
                return told.days.contains(after);
            });
        }

        @Test
        void a_notice_of_somebody_else_does_no_harm() throws SQLException {
            for (String strange : List.of("", "nonsense", clinic.id() + " 2026-02-31", "x 2026-03-04", "a b c")) {
                execute("select pg_notify('" + DayNotices.CHANNEL + "', '" + strange + "')");
            }
            DayChanged good = new DayChanged(clinic.id(), WEDNESDAY);
            events.publishEvent(good);
            await().until(() -> told.days.contains(good));
        }

        /** The process that serves the listener on the server, 0 for none. */
        private int listener() throws SQLException {
            try (Connection connection = DriverManager.getConnection(
                            database.getJdbcUrl(), database.getUsername(), database.getPassword());
                    Statement ask = connection.createStatement();
                    ResultSet found = ask.executeQuery("select pid from pg_stat_activity"
                            + " where application_name = 'earslot day listener' and datname = current_database()")) {
                return found.next() ? found.getInt(1) : 0;
            }
        }

        private void execute(String statement) throws SQLException {
            try (Connection connection = DriverManager.getConnection(
                            database.getJdbcUrl(), database.getUsername(), database.getPassword());
                    Statement run = connection.createStatement()) {
                run.execute(statement);
            }
        }
    }
}
