package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.policy.Policies;
import org.earslot.testing.PageTest;
import org.hamcrest.Matchers;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;

@PageTest
class FirstSignInTest {

    private static final String PASSWORD = "four unrelated words here";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private FirstSignIn firstSignIn;

    @Autowired
    private Accounts accounts;

    @Autowired
    private Clinics clinics;

    @Autowired
    private Policies policies;

    @Autowired
    private JdbcClient database;

    @BeforeEach
    void nobody_has_an_account() {
        accounts.deleteAll();
    }

    @Test
    void is_where_the_sign_in_leads_as_long_as_nobody_has_an_account() throws Exception {
        mvc.perform(get("/sign-in")).andExpect(redirectedUrl("/first-sign-in"));
        mvc.perform(get("/first-sign-in"))
                .andExpect(status().isOk())
                .andExpect(content().string(Matchers.containsString("Europe/London")));
    }

    @Test
    void opens_a_clinic_with_its_policy_and_its_lead() throws Exception {
        String code = firstSignIn.newCode().orElseThrow().shown();
        begin(" " + code.toUpperCase(java.util.Locale.ROOT), "Lead.One", PASSWORD)
                .andExpect(redirectedUrl("/sign-in"));
        Account lead = accounts.findBySignInName("lead.one").orElseThrow();
        assertThat(lead.role()).isEqualTo(Role.LEAD);
        assertThat(clinics.findById(lead.clinicId()).orElseThrow().zone().getId())
                .isEqualTo("Europe/Dublin");
        assertThat(policies.findById(lead.clinicId())).isPresent();
        assertThat(clinics.findById(lead.clinicId()).orElseThrow().contact())
                .isEqualTo(new ClinicContact("01632 960100", null, null));
        mvc.perform(post("/sign-in").with(csrf()).param("username", "lead.one").param("password", PASSWORD))
                .andExpect(redirectedUrl("/"));
    }

    @Test
    void takes_a_code_once_and_is_gone_afterwards() throws Exception {
        String code = firstSignIn.newCode().orElseThrow().shown();
        begin(code, "lead.one", PASSWORD).andExpect(redirectedUrl("/sign-in"));
        mvc.perform(get("/first-sign-in")).andExpect(status().isNotFound());
        begin(code, "lead.two", PASSWORD).andExpect(status().isNotFound());
        accounts.deleteAll();
        begin(code, "lead.two", PASSWORD).andExpect(status().isBadRequest());
        assertThat(accounts.count()).isZero();
    }

    @Test
    void refuses_a_wrong_code_and_keeps_what_was_typed_but_for_the_password() throws Exception {
        firstSignIn.newCode();
        begin("22222-22222-22222-22222-22222", "lead.one", PASSWORD)
                .andExpect(status().isBadRequest())
                .andExpect(content().string(Matchers.containsString("the code that the log shows")))
                .andExpect(content().string(Matchers.containsString("value=\"lead.one\"")))
                .andExpect(content().string(Matchers.not(Matchers.containsString(PASSWORD))));
    }

    @Test
    void names_every_problem_without_using_up_the_code() throws Exception {
        String code = firstSignIn.newCode().orElseThrow().shown();
        begin(code, "x", "short")
                .andExpect(status().isBadRequest())
                .andExpect(content().string(Matchers.containsString("3 to 60 letters")))
                .andExpect(content().string(Matchers.containsString("12 to 128 characters, at least")));
        begin(code, "lead.one", PASSWORD).andExpect(redirectedUrl("/sign-in"));
    }

    @Test
    void forgets_the_code_of_an_earlier_start() throws Exception {
        String earlier = firstSignIn.newCode().orElseThrow().shown();
        firstSignIn.newCode();
        begin(earlier, "lead.one", PASSWORD).andExpect(status().isBadRequest());
    }

    @Test
    void keeps_no_code_as_it_was_printed() {
        String code = firstSignIn.newCode().orElseThrow().shown();
        assertThat(database.sql("select code_hash from first_sign_in_code")
                        .query(String.class)
                        .list())
                .isNotEmpty()
                .doesNotContain(code)
                .contains(new Secret(code).hash());
    }

    private ResultActions begin(String code, String name, String password) throws Exception {
        return mvc.perform(post("/first-sign-in")
                .with(csrf())
                .param("code", code)
                .param("clinicName", "Riverside ears")
                .param("timeZone", "Europe/Dublin")
                .param("phone", "01632 960100")
                .param("signInName", name)
                .param("displayName", "A lead")
                .param("password", password)
                .param("repeated", password));
    }
}
