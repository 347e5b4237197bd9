package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import jakarta.servlet.http.Cookie;
import java.time.Duration;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.hamcrest.Matchers;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.MockMvc;

/** Sessions end: unused, after a day's work, or when the account changes. */
@PageTest
class SessionsTest {

    private static final String PASSWORD = "correct horse battery";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Accounts accounts;

    @Autowired
    private Passwords passwords;

    @Autowired
    private SettableClock clock;

    @Autowired
    private JdbcClient jdbc;

    private ClinicId clinic;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open().id();
    }

    @Test
    void of_a_lead_end_after_three_quarters_of_an_hour_though_the_screen_refreshes_itself() throws Exception {
        Cookie session = signIn(account(Role.LEAD));
        for (int minute = 0; minute < 44; minute++) {
            clock.advance(Duration.ofMinutes(1));
            mvc.perform(get("/day/2026-03-03").header("HX-Request", "true").cookie(session))
                    .andExpect(status().isOk());
        }
        clock.advance(Duration.ofMinutes(1));
        mvc.perform(get("/day/2026-03-03").header("HX-Request", "true").cookie(session))
                .andExpect(status().isUnauthorized());
        mvc.perform(get("/day/2026-03-03").cookie(session)).andExpect(redirectedUrl("/sign-in?ended"));
    }

    @Test
    void go_on_while_they_are_used_and_for_twelve_hours_at_most() throws Exception {
        Cookie session = signIn(account(Role.LEAD));
        for (int half = 0; half < 23; half++) {
            clock.advance(Duration.ofMinutes(30));
            mvc.perform(get("/audit").cookie(session)).andExpect(status().isOk());
        }
        clock.advance(Duration.ofMinutes(30));
        mvc.perform(get("/audit").cookie(session)).andExpect(redirectedUrl("/sign-in?ended"));
    }

    @Test
    void of_reception_last_through_a_quiet_morning() throws Exception {
        Cookie session = signIn(account(Role.RECEPTIONIST));
        clock.advance(Duration.ofHours(4).minusSeconds(1));
        mvc.perform(get("/kit").cookie(session)).andExpect(status().isOk());
        clock.advance(Duration.ofHours(4));
        mvc.perform(get("/kit").cookie(session)).andExpect(redirectedUrl("/sign-in?ended"));
    }

    @Test
    void end_with_the_next_request_whatever_changed_the_account() throws Exception {
        for (String change : new String[] {
            "update account set active = false, version = version + 1 where id = ?",
            "update account set role = 'receptionist' where id = ?",
            "update account set password_hash = '-', version = version + 1 where id = ?"
        }) {
            Account lead = account(Role.LEAD);
            Cookie session = signIn(lead);
            mvc.perform(get("/audit").cookie(session)).andExpect(status().isOk());
            // Past the verbs that end sessions themselves, as a sign-in does that runs beside them.
            jdbc.sql(change).param(lead.id()).update();
            mvc.perform(get("/audit").cookie(session)).andExpect(redirectedUrl("/sign-in?ended"));
        }
    }

    @Test
    void are_listed_to_their_person_who_ends_the_others() throws Exception {
        Account desk = account(Role.RECEPTIONIST);
        Cookie here = signIn(desk, "192.0.2.1");
        Cookie elsewhere = signIn(desk, "198.51.100.2");
        mvc.perform(get("/password").cookie(here))
                .andExpect(content().string(Matchers.containsString("198.51.100.2")))
                .andExpect(content().string(Matchers.containsString("this one")));
        mvc.perform(post("/password/sign-out-elsewhere").cookie(here).with(csrf()))
                .andExpect(redirectedUrl("/password"));
        mvc.perform(get("/kit").cookie(elsewhere)).andExpect(redirectedUrl("/sign-in?ended"));
        mvc.perform(get("/kit").cookie(here)).andExpect(status().isOk());
    }

    @Test
    void go_on_after_a_change_of_the_own_password() throws Exception {
        Account desk = account(Role.RECEPTIONIST);
        Cookie session = signIn(desk);
        Cookie after = mvc.perform(post("/password")
                        .cookie(session)
                        .with(csrf())
                        .param("currentPassword", PASSWORD)
                        .param("newPassword", "four unrelated words here")
                        .param("repeatedPassword", "four unrelated words here"))
                .andExpect(redirectedUrl("/"))
                .andReturn()
                .getResponse()
                .getCookie(SignedIn.COOKIE);
        mvc.perform(get("/kit").cookie(after)).andExpect(status().isOk());
    }

    private Account account(Role role) {
        return accounts.save(new Account(
                UUID.randomUUID(),
                clinic,
                "n" + UUID.randomUUID(),
                "Someone",
                passwords.hash(PASSWORD),
                role,
                null,
                clock.instant()));
    }

    private Cookie signIn(Account account) throws Exception {
        return signIn(account, "192.0.2.1");
    }

    private Cookie signIn(Account account, String address) throws Exception {
        Cookie session = mvc.perform(post("/sign-in")
                        .with(csrf())
                        .remoteAddress(address)
                        .param("username", account.signInName())
                        .param("password", PASSWORD))
                .andExpect(redirectedUrl("/"))
                .andReturn()
                .getResponse()
                .getCookie(SignedIn.COOKIE);
        assertThat(session).isNotNull();
        return session;
    }
}
