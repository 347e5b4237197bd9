package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.httpBasic;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.flash;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import jakarta.servlet.http.Cookie;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.page.FormVersion;
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
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;

@PageTest
class AccountsPageTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Accounts accounts;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private IntegrationKeys keys;

    @Autowired
    private Passwords passwords;

    @Autowired
    private SettableClock clock;

    private static final String OWN = "four other words there";

    private TestClinics.TestClinic clinic;
    private Account lead;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open();
    }

    @Test
    void makes_an_account_whose_password_is_shown_once_and_must_be_changed_first() throws Exception {
        String name = newName();
        MvcResult made = asRealLead(post("/accounts")
                        .param("signInName", name)
                        .param("displayName", "Desk")
                        .param("role", "receptionist"))
                .andExpect(redirectedUrl("/accounts"))
                .andReturn();
        AccountAdministration.Handed handed =
                (AccountAdministration.Handed) made.getFlashMap().get("handed");
        Cookie leads = made.getResponse().getCookie(SignedIn.COOKIE);
        mvc.perform(get("/accounts").cookie(leads).with(SignedIn.lead(clinic.id())))
                .andExpect(content().string(Matchers.containsString(handed.password())));
        mvc.perform(get("/accounts").cookie(leads).with(SignedIn.lead(clinic.id())))
                .andExpect(content().string(Matchers.containsString(name)))
                .andExpect(content().string(Matchers.not(Matchers.containsString(handed.password()))));

        Cookie session = signIn(name, handed.password());
        mvc.perform(get("/day").cookie(session)).andExpect(redirectedUrl("/password"));
        MvcResult changed = mvc.perform(post("/password")
                        .cookie(session)
                        .with(csrf())
                        .param("currentPassword", handed.password())
                        .param("newPassword", "four unrelated words here")
                        .param("repeatedPassword", "four unrelated words here"))
                .andExpect(redirectedUrl("/"))
                .andReturn();
        mvc.perform(get("/").cookie(changed.getResponse().getCookie(SignedIn.COOKIE)))
                .andExpect(redirectedUrl("/day"));
        mvc.perform(get("/").cookie(session)).andExpect(redirectedUrl("/sign-in?ended"));
        assertThat(signIn(name, "four unrelated words here")).isNotNull();
    }

    @Test
    void names_every_problem_of_a_new_account_at_once_and_keeps_what_was_typed() throws Exception {
        asRealLead(post("/accounts")
                        .param("signInName", "a b")
                        .param("displayName", "")
                        .param("role", "practitioner"))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(Matchers.containsString("3 to 60 letters")))
                .andExpect(content().string(Matchers.containsString("1 to 80 characters")))
                .andExpect(content().string(Matchers.containsString("the practitioner it belongs to")))
                .andExpect(content().string(Matchers.containsString("value=\"a b\"")));
        assertThat(accounts.findByClinicIdOrderBySignInName(clinic.id())).hasSize(1);
    }

    @Test
    void refuses_a_name_that_is_taken_and_a_practitioner_of_another_clinic() throws Exception {
        String name = newName();
        accountAdministration.admit(clinics.open().id(), name, "Someone", Role.RECEPTIONIST, null);
        asRealLead(post("/accounts")
                        .param("signInName", name)
                        .param("displayName", "x")
                        .param("role", "lead"))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(Matchers.containsString("nobody uses yet")));
        asRealLead(post("/accounts")
                        .param("signInName", newName())
                        .param("displayName", "x")
                        .param("role", "practitioner")
                        .param("practitioner", clinics.open().p1().toString()))
                .andExpect(status().isBadRequest());
    }

    @Test
    void keeps_at_least_one_active_lead() throws Exception {
        UUID lead = admit(Role.LEAD);
        asLead(post("/accounts/" + lead + "/deactivate"))
                .andExpect(status().isConflict())
                .andExpect(content().string(Matchers.containsString("at least one active lead")));
        asLead(post("/accounts/" + lead)
                        .param("version", FormVersion.ofText("lead ").text())
                        .param("role", "receptionist"))
                .andExpect(status().isConflict())
                .andExpect(content().string(Matchers.containsString("at least one active lead")));
        UUID another = admit(Role.LEAD);
        asLead(post("/accounts/" + lead + "/deactivate")).andExpect(redirectedUrl("/accounts"));
        asLead(post("/accounts/" + another + "/deactivate")).andExpect(status().isConflict());
        asLead(post("/accounts/" + lead + "/reactivate")).andExpect(redirectedUrl("/accounts"));
        assertThat(accounts.findById(lead).orElseThrow().active()).isTrue();
    }

    @Test
    void ends_the_sessions_of_whoever_may_do_less_now() throws Exception {
        String name = newName();
        String password = accountAdministration
                .admit(clinic.id(), name, "Desk", Role.RECEPTIONIST, null)
                .orElseThrow()
                .password();
        Cookie session = signIn(name, password);
        mvc.perform(get("/password").cookie(session)).andExpect(status().isOk());
        UUID id = accounts.findBySignInName(name).orElseThrow().id();
        asLead(post("/accounts/" + id + "/deactivate")).andExpect(redirectedUrl("/accounts"));
        mvc.perform(get("/password").cookie(session)).andExpect(redirectedUrl("/sign-in?ended"));
        mvc.perform(signInPost(name, password)).andExpect(redirectedUrl("/sign-in?refused"));
    }

    @Test
    void hands_out_a_new_password_in_place_of_a_forgotten_one() throws Exception {
        UUID id = admit(Role.RECEPTIONIST);
        asLead(get("/accounts/" + id)).andExpect(status().isOk());
        asRealLead(post("/accounts/" + id + "/new-password")).andExpect(flash().attributeExists("handed"));
        asRealLead(post("/accounts/" + UUID.randomUUID() + "/new-password")).andExpect(status().isNotFound());
    }

    @Test
    void does_not_reach_the_accounts_of_another_clinic() throws Exception {
        UUID id = admit(Role.RECEPTIONIST);
        ClinicId elsewhere = clinics.open().id();
        for (String path : new String[] {"", "/deactivate", "/reactivate", "/new-password"}) {
            mvc.perform(post("/accounts/" + id + path)
                            .with(SignedIn.lead(elsewhere))
                            .with(csrf())
                            .param("role", "lead"))
                    .andExpect(status().isNotFound());
        }
        mvc.perform(get("/accounts/" + id).with(SignedIn.lead(elsewhere))).andExpect(status().isNotFound());
        assertThat(accounts.findById(id).orElseThrow().role()).isEqualTo(Role.RECEPTIONIST);
    }

    @Test
    void makes_a_key_for_a_program_and_withdraws_it() throws Exception {
        String name = newName();
        MvcResult made = asRealLead(post("/accounts/integrations").param("programName", name))
                .andExpect(redirectedUrl("/accounts"))
                .andReturn();
        String key = String.valueOf(made.getFlashMap().get("key")).replaceAll(".*key=([0-9a-f]{64}).*", "$1");
        mvc.perform(get("/api/v1/nothing").with(httpBasic(name, key))).andExpect(status().isNotFound());
        asRealLead(post("/accounts/integrations").param("programName", name)).andExpect(status().isBadRequest());
        asRealLead(post("/accounts/integrations").param("programName", "?")).andExpect(status().isBadRequest());

        UUID id = keys.findByName(name).orElseThrow().id();
        mvc.perform(post("/accounts/integrations/" + id + "/withdraw")
                        .with(SignedIn.lead(clinics.open().id()))
                        .with(csrf()))
                .andExpect(status().isNotFound());
        asLead(post("/accounts/integrations/" + id + "/withdraw")).andExpect(redirectedUrl("/accounts"));
        mvc.perform(get("/api/v1/nothing").with(httpBasic(name, key))).andExpect(status().isUnauthorized());
    }

    @Test
    void asks_for_the_own_password_again_before_others_are_let_in() throws Exception {
        UUID id = admit(Role.RECEPTIONIST);
        for (MockHttpServletRequestBuilder made : java.util.List.of(
                post("/accounts")
                        .param("signInName", newName())
                        .param("displayName", "x")
                        .param("role", "lead"),
                post("/accounts/integrations").param("programName", newName()),
                post("/accounts/" + id + "/new-password"))) {
            asLead(made.param("ownPassword", "not it"))
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(Matchers.containsString("the password you signed in with")));
        }
        assertThat(accounts.findByClinicIdOrderBySignInName(clinic.id())).hasSize(1);
        assertThat(keys.findByClinicIdOrderByName(clinic.id())).isEmpty();
    }

    @Test
    void makes_a_key_that_only_reads_and_comes_to_its_end() throws Exception {
        String name = newName();
        MvcResult made = asRealLead(post("/accounts/integrations")
                        .param("programName", name)
                        .param("scope", "read")
                        .param("lastDay", "2026-03-04"))
                .andReturn();
        String key = String.valueOf(made.getFlashMap().get("key")).replaceAll(".*key=([0-9a-f]{64}).*", "$1");
        mvc.perform(get("/api/v1/nothing").with(httpBasic(name, key))).andExpect(status().isNotFound());
        mvc.perform(post("/api/v1/nothing").with(httpBasic(name, key))).andExpect(status().isForbidden());
        assertThat(keys.findByName(name).orElseThrow().lastUsedAt()).hasValue(clock.instant());
        clock.set(java.time.Instant.parse("2026-03-04T23:59:59Z"));
        mvc.perform(get("/api/v1/nothing").with(httpBasic(name, key))).andExpect(status().isNotFound());
        clock.set(java.time.Instant.parse("2026-03-05T00:00:00Z"));
        mvc.perform(get("/api/v1/nothing").with(httpBasic(name, key))).andExpect(status().isUnauthorized());
        asRealLead(post("/accounts/integrations")
                        .param("programName", newName())
                        .param("lastDay", "2020-01-01"))
                .andExpect(status().isBadRequest());
    }

    @Test
    void refuses_a_new_password_that_is_short_repeated_wrongly_or_like_the_name() throws Exception {
        String name = newName();
        String password = accountAdministration
                .admit(clinic.id(), name, "Desk", Role.RECEPTIONIST, null)
                .orElseThrow()
                .password();
        Cookie session = signIn(name, password);
        change(session, password, "short", "other")
                .andExpect(status().isBadRequest())
                .andExpect(content().string(Matchers.containsString("12 to 128 characters, at least")))
                .andExpect(content().string(Matchers.containsString("the same as the new password")));
        change(session, password, name + "-1", name + "-1").andExpect(status().isBadRequest());
        change(session, password, password, password).andExpect(status().isBadRequest());
        change(session, "not " + password, "four unrelated words here", "four unrelated words here")
                .andExpect(status().isBadRequest())
                .andExpect(content().string(Matchers.containsString("the password you signed in with")));
        assertThat(signIn(name, password)).isNotNull();
    }

    private ResultActions change(Cookie session, String current, String chosen, String repeated) throws Exception {
        return mvc.perform(post("/password")
                .cookie(session)
                .with(csrf())
                .param("currentPassword", current)
                .param("newPassword", chosen)
                .param("repeatedPassword", repeated));
    }

    private ResultActions asLead(MockHttpServletRequestBuilder request) throws Exception {
        return mvc.perform(request.with(SignedIn.lead(clinic.id())).with(csrf()));
    }

    /** As a lead with an account, who gives the own password again. */
    private ResultActions asRealLead(MockHttpServletRequestBuilder request) throws Exception {
        if (lead == null) {
            lead = accounts.save(new Account(
                    UUID.randomUUID(),
                    clinic.id(),
                    newName(),
                    "A lead",
                    passwords.hash(OWN),
                    Role.LEAD,
                    null,
                    clock.instant()));
        }
        return mvc.perform(request.param("ownPassword", OWN)
                .with(SignedIn.as(lead.person()))
                .with(csrf()));
    }

    private UUID admit(Role role) {
        String name = newName();
        accountAdministration.admit(clinic.id(), name, "Someone", role, null);
        return accounts.findBySignInName(name).orElseThrow().id();
    }

    private Cookie signIn(String name, String password) throws Exception {
        return mvc.perform(signInPost(name, password))
                .andExpect(redirectedUrl("/"))
                .andReturn()
                .getResponse()
                .getCookie(SignedIn.COOKIE);
    }

    private static MockHttpServletRequestBuilder signInPost(String name, String password) {
        return post("/sign-in").with(csrf()).param("username", name).param("password", password);
    }

    private static String newName() {
        return "n" + UUID.randomUUID();
    }
}
