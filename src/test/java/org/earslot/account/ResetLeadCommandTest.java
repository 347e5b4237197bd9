package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;

import jakarta.servlet.http.Cookie;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.sql.DataSource;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.Schema;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.SingleConnectionDataSource;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;

@PageTest
class ResetLeadCommandTest {

    private static final Pattern PASSWORD = Pattern.compile("Password for (\\S+): (\\S+)");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private Accounts accounts;

    @Autowired
    private AuditTrail trail;

    @Autowired
    private SettableClock clock;

    @Autowired
    private DataSource database;

    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream problems = new ByteArrayOutputStream();

    @Test
    void lets_a_lead_in_again_and_ends_what_was_open() throws Exception {
        ClinicId clinic = clinics.open().id();
        AccountAdministration.Handed old = accountAdministration
                .admit(clinic, "l" + UUID.randomUUID(), "A lead", Role.LEAD, null)
                .orElseThrow();
        Cookie open = mvc.perform(signIn(old.signInName(), old.password()))
                .andReturn()
                .getResponse()
                .getCookie(SignedIn.COOKIE);
        assertThat(run(url(), old.signInName().toUpperCase(Locale.ROOT)))
                .as(problems.toString(StandardCharsets.UTF_8))
                .isZero();

        Matcher printed = PASSWORD.matcher(out.toString(StandardCharsets.UTF_8));
        assertThat(printed.find()).isTrue();
        assertThat(printed.group(1)).isEqualTo(old.signInName());
        mvc.perform(get("/password").cookie(open)).andExpect(redirectedUrl("/sign-in?ended"));
        mvc.perform(signIn(old.signInName(), old.password())).andExpect(redirectedUrl("/sign-in?refused"));
        clock.set(Instant.now());
        mvc.perform(signIn(old.signInName(), printed.group(2))).andExpect(redirectedUrl("/"));
        assertThat(accounts.findBySignInName(old.signInName()).orElseThrow().mustChangePassword())
                .isTrue();
        assertThat(trail.latest(clinic, new AuditTrail.Choice(null, AuditTrail.NOBODY, "", ""), 0))
                .extracting(AuditEntry::action)
                .contains("account-password-reset");
    }

    @Test
    void needs_no_name_where_there_is_one_lead_and_one_where_there_are_several() {
        String url = "jdbc:h2:mem:" + UUID.randomUUID() + ";DB_CLOSE_DELAY=-1";
        JdbcClient own = migrated(url);
        ClinicId clinic = ClinicId.random();
        own.sql("insert into clinic (id, name, time_zone, created_at)"
                        + " values (?, 'Fernside', 'Europe/London', current_timestamp)")
                .param(clinic.value())
                .update();
        assertThat(run(url)).isEqualTo(2);
        lead(own, clinic, "first");
        assertThat(run(url)).as(problems.toString(StandardCharsets.UTF_8)).isZero();
        assertThat(out.toString(StandardCharsets.UTF_8)).contains("Password for first: ");
        lead(own, clinic, "second");
        assertThat(run(url)).isEqualTo(2);
        assertThat(problems.toString(StandardCharsets.UTF_8)).contains("Name one of: first, second");
        assertThat(run(url, "third")).isEqualTo(2);
    }

    @Test
    void says_that_the_program_must_be_stopped_first_and_fails_without_a_database() {
        // 90020 is H2's code of a file that another process has open (org.h2.api.ErrorCode.DATABASE_ALREADY_OPEN_1).
        assertThat(ResetLeadCommand.why(new IllegalStateException(new SQLException("x", "90020", 90020))))
                .contains("Stop the program first");
        assertThat(run("jdbc:h2:mem:" + UUID.randomUUID())).isEqualTo(1);
        assertThat(problems.toString(StandardCharsets.UTF_8)).startsWith("The database cannot be used.");
    }

    private int run(String url, String... name) {
        List<String> arguments = new ArrayList<>(List.of(name));
        arguments.addAll(List.of(
                "--spring.datasource.url=" + url, "--spring.datasource.username=sa", "--spring.datasource.password="));
        return new ResetLeadCommand(new PrintStream(out), new PrintStream(problems)).run(arguments);
    }

    private String url() throws SQLException {
        try (Connection connection = database.getConnection()) {
            return connection.getMetaData().getURL();
        }
    }

    private static JdbcClient migrated(String url) {
        SingleConnectionDataSource own = new SingleConnectionDataSource(url, "sa", "", true);
        Schema.onH2(own).load().migrate();
        return JdbcClient.create(own);
    }

    private static void lead(JdbcClient own, ClinicId clinic, String name) {
        own.sql("insert into account (id, clinic_id, sign_in_name, display_name, password_hash, role, active,"
                        + " must_change_password, created_at, version)"
                        + " values (random_uuid(), ?, ?, 'A lead', '-', 'lead', true, false, current_timestamp, 0)")
                .param(clinic.value())
                .param(name)
                .update();
    }

    private static MockHttpServletRequestBuilder signIn(String name, String password) {
        return post("/sign-in").with(csrf()).param("username", name).param("password", password);
    }
}
