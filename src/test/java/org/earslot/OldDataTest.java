package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.earslot.caution.CautionRule;
import org.earslot.caution.CautionTables;
import org.earslot.caution.Mark;
import org.earslot.caution.PatientCaution;
import org.earslot.caution.PatientCautions;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.referral.Intake;
import org.earslot.referral.RedFlag;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.PostgresServer;
import org.earslot.testing.SettableClock;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.util.TestPropertyValues;
import org.springframework.context.ApplicationContextInitializer;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.ContextConfiguration;

/** What an earlier version stored is converted when the program starts, and read as it was meant, on both databases. */
class OldDataTest {

    /** The last version before red flags had to be asked of everybody who is to be booked. */
    private static final String BEFORE_RED_FLAGS_ASKED = "201";
    /** The last version before cautions belonged to patients, and sign-offs named somebody. */
    private static final String BEFORE_PATIENT_CAUTIONS = "233";

    /** The last version in which an ear had at most one adverse event. */
    private static final String BEFORE_SEVERAL_ADVERSE_EVENTS = "269";

    /** As the version of that time wrote it: all it asked, in the order of the codes. */
    private static final String WHOLE_LIST =
            "button_battery;head_injury;loss_with_droop;new_vertigo;sudden_loss_earlier;sudden_loss_recent;"
                    + "swelling_behind_ear;weak_immunity";

    private static final UUID CLINIC = UUID.randomUUID();
    private static final UUID PATIENT = UUID.randomUUID();
    private static final UUID NOT_ASKED = UUID.randomUUID();
    private static final UUID WAITING_HALF_ASKED = UUID.randomUUID();
    private static final UUID ALL_ASKED = UUID.randomUUID();
    private static final UUID CLEARED = UUID.randomUUID();
    private static final UUID SENT_ON = UUID.randomUUID();
    private static final UUID BOOKED = UUID.randomUUID();
    private static final UUID CLOSED = UUID.randomUUID();
    private static final UUID PRACTITIONER = UUID.randomUUID();
    private static final UUID VISIT = UUID.randomUUID();
    private static final LocalDate RECEIVED = LocalDate.of(2026, 2, 2);

    abstract static class Converted {

        @Autowired
        private Referrals referrals;

        @Autowired
        private Intake intake;

        @Autowired
        private PatientCautions cautions;

        @Autowired
        private CautionTables tables;

        @Autowired
        private Visits visits;

        @Test
        void those_not_asked_all_red_flags_are_asked_before_they_are_booked() {
            Map<UUID, ReferralStatus> now = new TreeMap<>();
            for (UUID id : List.of(NOT_ASKED, WAITING_HALF_ASKED, ALL_ASKED, CLEARED, SENT_ON, BOOKED, CLOSED)) {
                now.put(id, status(id));
            }
            assertThat(now)
                    .containsEntry(NOT_ASKED, ReferralStatus.TO_TRIAGE)
                    .containsEntry(WAITING_HALF_ASKED, ReferralStatus.TO_TRIAGE)
                    .containsEntry(ALL_ASKED, ReferralStatus.READY_TO_BOOK)
                    .containsEntry(CLEARED, ReferralStatus.READY_TO_BOOK)
                    .containsEntry(SENT_ON, ReferralStatus.TO_TRIAGE)
                    .containsEntry(BOOKED, ReferralStatus.BOOKED)
                    .containsEntry(CLOSED, ReferralStatus.CLOSED);
            for (UUID id : List.of(NOT_ASKED, WAITING_HALF_ASKED)) {
                intake.answerRedFlags(referral(id), RedFlag.noneOfThese(), null, new Intake.Taker("desk", null));
            }
            assertThat(status(NOT_ASKED)).isEqualTo(ReferralStatus.READY_TO_BOOK);
            assertThat(status(WAITING_HALF_ASKED)).isEqualTo(ReferralStatus.WAITING);
        }

        @Test
        void cautions_of_referrals_are_those_of_the_patient_each_once() {
            assertThat(cautions.inForce(CLINIC, PATIENT, LocalDate.of(2026, 3, 3)))
                    .extracting(
                            PatientCaution::caution,
                            PatientCaution::ear,
                            caution -> caution.asked().method(),
                            caution -> caution.asked().since(),
                            PatientCaution::confirmedOn)
                    .containsExactlyInAnyOrder(
                            tuple(Caution.PERFORATION, Ear.RIGHT, null, LocalDate.of(2020, 1, 2), RECEIVED),
                            tuple(Caution.COMPLICATION_BEFORE, Ear.LEFT, Method.IRRIGATION, null, RECEIVED));
            assertThat(cautions.everRecorded(CLINIC, PATIENT)).hasSize(3);
        }

        @Test
        void cells_signed_off_without_a_name_stay_so_and_are_due_for_review() {
            assertThat(rules(Caution.PERFORATION)).singleElement().satisfies(rule -> {
                assertThat(rule.mark()).isEqualTo(Mark.CHANGED_HERE);
                assertThat(rule.source()).isEqualTo("signed once");
                assertThat(rule.signOff()).hasValueSatisfying(by -> {
                    assertThat(by.name()).isEqualTo("-");
                    assertThat(by.due(LocalDate.of(2026, 3, 3))).isTrue();
                });
            });
            assertThat(rules(Caution.TINNITUS)).singleElement().satisfies(rule -> {
                assertThat(rule.mark()).isEqualTo(Mark.FROM_MEMORY);
                assertThat(rule.signedOff()).isFalse();
            });
        }

        @Test
        void one_adverse_event_of_an_ear_is_a_list_of_one() {
            Visit visit = visits.findByClinicIdAndId(CLINIC, VISIT).orElseThrow();
            assertThat(visit.recorded(Ear.RIGHT).adverseEvents()).containsExactly(AdverseEvent.BLEED);
            assertThat(visit.recorded(Ear.LEFT).adverseEvents()).containsExactly(AdverseEvent.NONE);
        }

        private List<CautionRule> rules(Caution caution) {
            return tables.of(CLINIC).rules(caution, Method.IRRIGATION);
        }

        private Referral referral(UUID id) {
            return referrals.findByClinicIdAndId(CLINIC, id).orElseThrow();
        }

        private ReferralStatus status(UUID id) {
            return referral(id).status();
        }
    }

    @Nested
    @SpringBootTest
    @ContextConfiguration(initializers = FileOfH2.class)
    @Import(SettableClock.Bringing.class)
    class OnH2Database extends Converted {}

    @Nested
    @SpringBootTest
    @ContextConfiguration(initializers = DatabaseOfPostgres.class)
    @Import(SettableClock.Bringing.class)
    class OnPostgresDatabase extends Converted {}

    /** A file, since its checks are read again when the program opens it. */
    static class FileOfH2 implements ApplicationContextInitializer<ConfigurableApplicationContext> {
        @Override
        public void initialize(ConfigurableApplicationContext context) {
            try {
                Path folder = Files.createTempDirectory("earslot-old");
                folder.toFile().deleteOnExit();
                String url = "jdbc:h2:file:" + folder.resolve("db") + ";LOCK_TIMEOUT=10000";
                new Old(url, "sa", "", "h2").openIn(context);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    static class DatabaseOfPostgres implements ApplicationContextInitializer<ConfigurableApplicationContext> {
        @Override
        public void initialize(ConfigurableApplicationContext context) {
            new Old(PostgresServer.newDatabase(), PostgresServer.user(), PostgresServer.password(), "postgresql")
                    .openIn(context);
        }
    }

    /** A database of an earlier version with rows of its time. */
    private record Old(String url, String user, String password, String vendor) {

        void openIn(ConfigurableApplicationContext context) {
            migrateTo(BEFORE_RED_FLAGS_ASKED);
            run(referrals());
            migrateTo(BEFORE_PATIENT_CAUTIONS);
            run(cautions());
            migrateTo(BEFORE_SEVERAL_ADVERSE_EVENTS);
            run(visits());
            TestPropertyValues.of(
                            "spring.datasource.url=" + url,
                            "spring.datasource.username=" + user,
                            "spring.datasource.password=" + password,
                            // Tests say when months are worked out ahead.
                            "earslot.reviews.ahead=PT24H")
                    .applyTo(context);
        }

        private void migrateTo(String version) {
            Flyway.configure()
                    .dataSource(url, user, password)
                    .locations("classpath:db/migration/common", "classpath:db/migration/" + vendor)
                    .target(version)
                    .load()
                    .migrate();
        }

        private void run(List<String> rows) {
            try (Connection connection = DriverManager.getConnection(url, user, password);
                    Statement statement = connection.createStatement()) {
                for (String row : rows) {
                    statement.execute(row);
                }
            } catch (SQLException e) {
                throw new IllegalStateException("an old row does not fit its old table", e);
            }
        }

        private static List<String> visits() {
            return List.of(
                    "insert into practitioner (id, clinic_id, name, methods, active) values ('" + PRACTITIONER + "', '"
                            + CLINIC + "', 'P1', 'microsuction', true)",
                    "insert into visit (id, clinic_id, visit_ref, patient_ref, visit_date, practitioner_id, method_planned, ears,"
                            + " first_visit, hearing_aid, cautions, fit_in, times_entered_later, source, version,"
                            + " right_adverse_event, left_adverse_event) values ('" + VISIT + "', '" + CLINIC
                            + "', 'V1', 'K1', date '" + RECEIVED + "', '" + PRACTITIONER
                            + "', 'microsuction', 'both', 'yes', 'no', '', false, false, 'clinic', 0, 'bleed', 'none')");
        }

        private static List<String> referrals() {
            return List.of(
                    "insert into clinic (id, name, time_zone, created_at) values ('" + CLINIC
                            + "', 'Old clinic', 'Europe/London', timestamp with time zone '2025-11-03 09:00:00+00')",
                    "insert into patient (id, clinic_id, local_number, contact_permission, preferred_route, hearing_aid, created_at, version)"
                            + " values ('" + PATIENT + "', '" + CLINIC
                            + "', 'K1', 'not_known', 'not_known', 'no', timestamp with time zone '2025-11-03 09:00:00+00', 0)",
                    referral(NOT_ASKED, "ready_to_book", "null"),
                    referral(WAITING_HALF_ASKED, "waiting", "'button_battery;head_injury'"),
                    referral(ALL_ASKED, "ready_to_book", "'" + WHOLE_LIST + "'"),
                    referral(CLEARED, "ready_to_book", "'head_injury'"),
                    settledCase(CLEARED, "cleared"),
                    referral(SENT_ON, "ready_to_book", "'head_injury'"),
                    settledCase(SENT_ON, "sent_on"),
                    referral(BOOKED, "booked", "null"),
                    referral(CLOSED, "closed", "null"));
        }

        private static String referral(UUID id, String status, String redFlagsNo) {
            return "insert into referral (id, clinic_id, patient_id, received_on, priority, ears, method_planned, first_visit,"
                    + " cautions_asked, status, red_flags_no, created_at, version) values ('" + id + "', '" + CLINIC
                    + "', '" + PATIENT + "', date '" + RECEIVED + "', 'routine', 'both', 'microsuction', 'yes', true, '"
                    + status + "', " + redFlagsNo + ", timestamp with time zone '2026-02-02 09:00:00+00', 0)";
        }

        private static String settledCase(UUID referral, String as) {
            return "insert into red_flag_case (id, clinic_id, referral_id, flags, raised_at, raised_by, settled_as, settled_at,"
                    + " version) values ('" + UUID.randomUUID() + "', '" + CLINIC + "', '" + referral
                    + "', 'new_vertigo', timestamp with time zone '2026-02-02 09:00:00+00', 'desk', '" + as
                    + "', timestamp with time zone '2026-02-02 10:00:00+00', 0)";
        }

        private static List<String> cautions() {
            return List.of(
                    caution(ALL_ASKED, "perforation", "'right'", "date '2020-01-02'", "null"),
                    caution(BOOKED, "perforation", "'right'", "date '2020-01-02'", "null"),
                    caution(BOOKED, "complication_before", "'left'", "null", "'irrigation'"),
                    cell("perforation", "signed once", "signed_off"),
                    cell("tinnitus", "remembered", "from_memory"));
        }

        private static String caution(UUID referral, String caution, String ear, String since, String method) {
            return "insert into referral_caution (id, clinic_id, referral_id, caution, ear, since, method, all_clear) values ('"
                    + UUID.randomUUID() + "', '" + CLINIC + "', '" + referral + "', '" + caution + "', " + ear + ", "
                    + since + ", " + method + ", false)";
        }

        private static String cell(String caution, String source, String mark) {
            return "insert into caution_cell (id, clinic_id, caution, method, place, verdict, all_clear, source, mark) values ('"
                    + UUID.randomUUID() + "', '" + CLINIC + "', '" + caution
                    + "', 'irrigation', 0, 'contraindicated', false, '"
                    + source + "', '" + mark + "')";
        }
    }
}
