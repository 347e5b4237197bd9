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
import java.util.List;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.hamcrest.Matchers;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;

@PageTest
class SecondFactorTest {

    private static final String PASSWORD = "correct horse battery";
    private static final Pattern SECRET = Pattern.compile("secret=([A-Z2-7]{32})");
    private static final Pattern RECOVERY = Pattern.compile("<code>([2-9a-z]{5}(?:-[2-9a-z]{5}){4})</code>");

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

    private ClinicId clinic;
    private Account lead;

    @BeforeEach
    void a_lead() {
        clinic = clinics.open().id();
        lead = account();
    }

    @Test
    void is_asked_at_the_sign_in_once_it_is_set_up_and_each_code_serves_once() throws Exception {
        String secret = setUp(signIn());
        Cookie session = signIn();
        for (String path : List.of("/day", "/audit", "/password", "/second-factor/begin")) {
            mvc.perform(get(path).cookie(session)).andExpect(redirectedUrl("/second-factor"));
        }
        give(session, "000000").andExpect(status().isBadRequest());
        clock.advance(Duration.ofSeconds(30));
        String code = code(secret);
        give(session, code).andExpect(redirectedUrl("/"));
        mvc.perform(get("/audit").cookie(session)).andExpect(status().isOk());
        give(signIn(), code).andExpect(status().isBadRequest());
        mvc.perform(get("/second-factor").cookie(session))
                .andExpect(content().string(Matchers.not(Matchers.containsString(secret))));
    }

    @Test
    void is_replaced_by_a_recovery_code_once() throws Exception {
        Cookie first = signIn();
        String secret = begin(first);
        String page = confirm(first, code(secret)).andReturn().getResponse().getContentAsString();
        List<String> codes =
                RECOVERY.matcher(page).results().map(found -> found.group(1)).toList();
        assertThat(codes).hasSize(8).doesNotHaveDuplicates();
        give(signIn(), codes.get(0)).andExpect(redirectedUrl("/"));
        give(signIn(), codes.get(0)).andExpect(status().isBadRequest());
        give(signIn(), codes.get(1)).andExpect(redirectedUrl("/"));
    }

    @Test
    void slows_guesses_down() throws Exception {
        String secret = setUp(signIn());
        Cookie session = signIn();
        for (int i = 0; i < 5; i++) {
            give(session, "000000").andExpect(status().isBadRequest());
        }
        clock.advance(Duration.ofSeconds(4));
        give(session, code(secret)).andExpect(status().isBadRequest());
        clock.advance(Duration.ofMinutes(1));
        give(session, code(secret)).andExpect(redirectedUrl("/"));
    }

    @Test
    void is_changed_only_with_the_own_password() throws Exception {
        Cookie session = signIn();
        mvc.perform(post("/second-factor/begin").cookie(session).with(csrf()).param("ownPassword", "not it"))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(Matchers.not(Matchers.containsString("otpauth"))));
        setUp(session);
        mvc.perform(post("/second-factor/remove").cookie(session).with(csrf()).param("ownPassword", "not it"))
                .andExpect(status().isBadRequest());
        mvc.perform(post("/second-factor/remove").cookie(session).with(csrf()).param("ownPassword", PASSWORD))
                .andExpect(redirectedUrl("/second-factor"));
        mvc.perform(get("/audit").cookie(signIn())).andExpect(status().isOk());
    }

    @Test
    void can_be_asked_of_leads_by_a_lead_who_has_one() throws Exception {
        Cookie session = signIn();
        ask(session, "must").andExpect(status().isBadRequest());
        setUp(session);
        ask(session, "must").andExpect(redirectedUrl("/accounts"));
        mvc.perform(post("/accounts/second-factor")
                        .cookie(session)
                        .with(csrf())
                        .param("version", "of an older page")
                        .param("leads", "offered")
                        .param("ownPassword", PASSWORD))
                .andExpect(status().isConflict());
        mvc.perform(get("/accounts").cookie(session))
                .andExpect(content().string(Matchers.matchesPattern("(?s).*value=\"must\"[^>]* selected.*")));
        mvc.perform(post("/second-factor/remove").cookie(session).with(csrf()).param("ownPassword", PASSWORD))
                .andExpect(status().isBadRequest());

        Account other = account();
        Cookie others = signIn(other);
        mvc.perform(get("/day").cookie(others)).andExpect(redirectedUrl("/second-factor"));
        mvc.perform(get("/second-factor").cookie(others))
                .andExpect(content().string(Matchers.containsString("asks a second factor of its leads")));
        setUp(others);
        mvc.perform(get("/audit").cookie(others)).andExpect(status().isOk());

        mvc.perform(post("/accounts/" + other.id() + "/second-factor/remove")
                        .cookie(session)
                        .with(csrf())
                        .param("ownPassword", PASSWORD))
                .andExpect(redirectedUrl("/accounts"));
        mvc.perform(get("/day").cookie(signIn(other))).andExpect(redirectedUrl("/second-factor"));
        ask(session, "offered").andExpect(redirectedUrl("/accounts"));
        mvc.perform(get("/audit").cookie(signIn(other))).andExpect(status().isOk());
    }

    private ResultActions ask(Cookie session, String leads) throws Exception {
        String shown = mvc.perform(get("/accounts").cookie(session))
                .andReturn()
                .getResponse()
                .getContentAsString();
        return mvc.perform(post("/accounts/second-factor")
                .cookie(session)
                .with(csrf())
                .param(
                        "version",
                        Jsoup.parse(shown)
                                .select("form[action=/accounts/second-factor] [name=version]")
                                .val())
                .param("leads", leads)
                .param("ownPassword", PASSWORD));
    }

    private String setUp(Cookie session) throws Exception {
        String secret = begin(session);
        confirm(session, code(secret)).andExpect(status().isOk());
        return secret;
    }

    private String begin(Cookie session) throws Exception {
        String page = mvc.perform(post("/second-factor/begin")
                        .cookie(session)
                        .with(csrf())
                        .param("ownPassword", PASSWORD))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString();
        Matcher shown = SECRET.matcher(page);
        assertThat(shown.find()).isTrue();
        return shown.group(1);
    }

    private ResultActions confirm(Cookie session, String code) throws Exception {
        return mvc.perform(
                post("/second-factor/confirm").cookie(session).with(csrf()).param("code", code));
    }

    private ResultActions give(Cookie session, String code) throws Exception {
        return mvc.perform(post("/second-factor").cookie(session).with(csrf()).param("code", code));
    }

    private String code(String secret) {
        return String.format(
                "%06d", Totp.code(Totp.bytes(secret), clock.instant().getEpochSecond() / 30, Totp.DIGITS));
    }

    private Account account() {
        return accounts.save(new Account(
                UUID.randomUUID(),
                clinic,
                "n" + UUID.randomUUID(),
                "A lead",
                passwords.hash(PASSWORD),
                Role.LEAD,
                null,
                clock.instant()));
    }

    private Cookie signIn() throws Exception {
        return signIn(lead);
    }

    private Cookie signIn(Account account) throws Exception {
        return mvc.perform(post("/sign-in")
                        .with(csrf())
                        .param("username", account.signInName())
                        .param("password", PASSWORD))
                .andExpect(redirectedUrl("/"))
                .andReturn()
                .getResponse()
                .getCookie(SignedIn.COOKIE);
    }
}
