package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.httpBasic;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import jakarta.servlet.http.Cookie;
import java.time.Duration;
import java.util.Locale;
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
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.MvcResult;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;

@PageTest
class SigningInTest {

    private static final String PASSWORD = "correct horse battery";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Accounts accounts;

    @Autowired
    private IntegrationKeys keys;

    @Autowired
    private Passwords passwords;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private AuditTrail trail;

    @Autowired
    private SettableClock clock;

    private ClinicId clinic;
    private String name;

    @BeforeEach
    void a_receptionist() {
        clinic = clinics.open().id();
        name = "desk-" + UUID.randomUUID();
        accounts.save(new Account(
                UUID.randomUUID(),
                clinic,
                name,
                "Desk",
                passwords.hash(PASSWORD),
                Role.RECEPTIONIST,
                null,
                clock.instant()));
    }

    @Test
    void shows_its_page_to_anyone_with_strict_headers() throws Exception {
        mvc.perform(get("/sign-in"))
                .andExpect(status().isOk())
                .andExpect(content().string(Matchers.containsString("Sign in · Earslot")))
                .andExpect(header().string("Content-Security-Policy", Matchers.containsString("default-src 'self'")))
                .andExpect(
                        header().string("Content-Security-Policy", Matchers.containsString("frame-ancestors 'none'")))
                .andExpect(header().string("Cache-Control", Matchers.containsString("no-store")))
                .andExpect(header().string("X-Content-Type-Options", "nosniff"))
                .andExpect(header().string("Referrer-Policy", "same-origin"));
    }

    @Test
    void lets_a_person_in_by_name_and_password() throws Exception {
        mvc.perform(signIn(name, PASSWORD)).andExpect(redirectedUrl("/"));
        mvc.perform(signIn(" " + name.toUpperCase(Locale.ROOT), PASSWORD)).andExpect(redirectedUrl("/"));
    }

    @Test
    void refuses_an_unknown_name_and_a_wrong_password_alike() throws Exception {
        mvc.perform(signIn(name, "wrong")).andExpect(redirectedUrl("/sign-in?refused"));
        mvc.perform(signIn("nobody", "wrong")).andExpect(redirectedUrl("/sign-in?refused"));
    }

    @Test
    void slows_down_where_wrong_passwords_come_from_and_lets_the_right_one_in_from_elsewhere() throws Exception {
        for (int i = 0; i < 5; i++) {
            mvc.perform(signIn(name, "wrong")).andExpect(redirectedUrl("/sign-in?refused"));
        }
        mvc.perform(signIn(name, PASSWORD)).andExpect(redirectedUrl("/sign-in?refused"));
        assertThat(trail.latest(clinic, new AuditTrail.Choice(null, SignInAttempted.VISITOR, "account", ""), 0))
                .extracting(AuditEntry::action)
                .startsWith("sign-in-slowed", "sign-in-refused")
                .hasSize(5);
        mvc.perform(signIn(name, PASSWORD).remoteAddress("192.0.2.99")).andExpect(redirectedUrl("/"));
        clock.advance(Duration.ofSeconds(5));
        mvc.perform(signIn(name, PASSWORD)).andExpect(redirectedUrl("/"));
    }

    @Test
    void records_an_unknown_name_without_repeating_it() throws Exception {
        mvc.perform(signIn("my secret passphrase", "wrong").remoteAddress("192.0.2.7"));
        assertThat(trail.latest(clinic, new AuditTrail.Choice(null, SignInAttempted.VISITOR, "", ""), 0)
                        .getContent()
                        .get(0)
                        .detail())
                .hasValue("unknown name, from 192.0.2.7");
    }

    @Test
    void refuses_a_password_that_was_handed_out_three_days_ago() throws Exception {
        AccountAdministration.Handed handed = accountAdministration
                .admit(clinic, "new-" + UUID.randomUUID(), "New", Role.RECEPTIONIST, null)
                .orElseThrow();
        clock.advance(Duration.ofDays(3));
        mvc.perform(signIn(handed.signInName(), handed.password())).andExpect(redirectedUrl("/"));
        clock.advance(Duration.ofSeconds(1));
        mvc.perform(signIn(handed.signInName(), handed.password())).andExpect(redirectedUrl("/sign-in?refused"));
    }

    @Test
    void lets_a_program_in_by_its_key_until_it_is_withdrawn() throws Exception {
        Secret key = Secret.key();
        String program = "program-" + UUID.randomUUID();
        IntegrationKey kept =
                keys.save(new IntegrationKey(UUID.randomUUID(), clinic, program, key.hash(), clock.instant()));
        mvc.perform(get("/api/v1/nothing").with(httpBasic(program, key.shown())))
                .andExpect(status().isNotFound());
        mvc.perform(get("/api/v1/nothing").with(httpBasic(program, Secret.key().shown())))
                .andExpect(status().isUnauthorized());
        kept.withdraw(clock.instant());
        keys.save(kept);
        mvc.perform(get("/api/v1/nothing").with(httpBasic(program, key.shown())))
                .andExpect(status().isUnauthorized());
    }

    @Test
    void records_wrong_keys_without_filling_the_trail() throws Exception {
        for (int i = 0; i < 300; i++) {
            mvc.perform(get("/api/v1/nothing")
                            .remoteAddress("192.0.2.50")
                            .with(httpBasic("nobody", Secret.key().shown())))
                    .andExpect(status().isUnauthorized());
        }
        assertThat(trail.latest(clinic, new AuditTrail.Choice(null, SignInAttempted.VISITOR, "integration", ""), 0))
                .extracting(AuditEntry::action)
                .containsOnly("key-refused")
                .hasSize(5);
    }

    @Test
    void records_who_was_refused_where_and_who_signed_out() throws Exception {
        Cookie session = cookie(mvc.perform(signIn(name, PASSWORD)).andReturn());
        mvc.perform(get("/audit").cookie(session)).andExpect(status().isForbidden());
        mvc.perform(post("/sign-out").cookie(session).with(csrf())).andExpect(redirectedUrl("/sign-in?out"));
        assertThat(trail.latest(clinic, new AuditTrail.Choice(null, name, "", ""), 0))
                .extracting(entry -> entry.action() + " " + entry.detail().orElse(""))
                .containsExactly("signed-out " + name, "access-refused GET /audit", "signed-in " + name);
    }

    @Test
    void refuses_a_persons_password_to_programs() throws Exception {
        mvc.perform(get("/api/v1/nothing").with(httpBasic(name, PASSWORD))).andExpect(status().isUnauthorized());
    }

    @Test
    void refuses_a_post_without_the_token_of_its_page() throws Exception {
        mvc.perform(post("/accounts").with(SignedIn.lead(clinic))).andExpect(status().isForbidden());
        mvc.perform(post("/nothing").with(SignedIn.lead(clinic)).with(csrf())).andExpect(status().isNotFound());
    }

    @Test
    void leads_a_visitor_to_the_sign_in_and_then_to_the_page_that_was_asked_for() throws Exception {
        MvcResult asked = mvc.perform(get("/password"))
                .andExpect(redirectedUrl("/sign-in"))
                .andReturn();
        mvc.perform(signIn(name, PASSWORD).cookie(cookie(asked))).andExpect(redirectedUrl("http://localhost/password"));
    }

    @Test
    void leaves_a_page_in_place_whose_part_is_asked_for_after_the_session_has_ended() throws Exception {
        mvc.perform(get("/password").header("HX-Request", "true"))
                .andExpect(status().isUnauthorized())
                .andExpect(header().doesNotExist("HX-Redirect"))
                .andExpect(header().doesNotExist("Location"));
    }

    @Test
    void tells_that_a_session_has_ended() throws Exception {
        mvc.perform(get("/password").cookie(new Cookie(SignedIn.COOKIE, "c29tZXRoaW5nLWVsc2U=")))
                .andExpect(redirectedUrl("/sign-in?ended"));
    }

    @Test
    void gives_the_session_another_name_at_the_sign_in() throws Exception {
        Cookie before = cookie(mvc.perform(get("/sign-in")).andReturn());
        Cookie after = cookie(mvc.perform(signIn(name, PASSWORD).cookie(before)).andReturn());
        assertThat(after.getValue()).isNotEqualTo(before.getValue());
        mvc.perform(get("/password").cookie(before)).andExpect(redirectedUrl("/sign-in?ended"));
        mvc.perform(get("/password").cookie(after)).andExpect(status().isOk());
    }

    @Test
    void ends_the_session_at_the_sign_out() throws Exception {
        Cookie session = cookie(mvc.perform(signIn(name, PASSWORD)).andReturn());
        mvc.perform(post("/sign-out").cookie(session).with(csrf())).andExpect(redirectedUrl("/sign-in?out"));
        mvc.perform(get("/password").cookie(session)).andExpect(redirectedUrl("/sign-in?ended"));
    }

    @Test
    void lets_people_and_programs_read_the_description_and_nobody_else() throws Exception {
        mvc.perform(get("/api/v1/openapi.json")).andExpect(status().isUnauthorized());
        mvc.perform(get("/api/v1/openapi.json").with(SignedIn.receptionist(clinic)))
                .andExpect(status().isOk());
        mvc.perform(get("/api/v1/openapi.json").with(SignedIn.program(clinic))).andExpect(status().isOk());
    }

    @Test
    void does_not_take_a_persons_session_for_a_program() throws Exception {
        Cookie session = cookie(mvc.perform(signIn(name, PASSWORD)).andReturn());
        mvc.perform(get("/api/v1/nothing").cookie(session)).andExpect(status().isUnauthorized());
    }

    private static Cookie cookie(MvcResult result) {
        return result.getResponse().getCookie(SignedIn.COOKIE);
    }

    @Test
    void keeps_health_open_without_details() throws Exception {
        mvc.perform(get("/actuator/health"))
                .andExpect(status().isOk())
                .andExpect(content().string(Matchers.not(Matchers.containsString("components"))));
        assertThat(mvc.perform(get("/actuator/env")).andReturn().getResponse().getStatus())
                .isEqualTo(302);
    }

    private static MockHttpServletRequestBuilder signIn(String name, String password) {
        return post("/sign-in").with(csrf()).param("username", name).param("password", password);
    }
}
