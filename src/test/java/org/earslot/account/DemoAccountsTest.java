package org.earslot.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.httpBasic;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.testing.PageTest;
import org.hamcrest.Matchers;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.test.context.ActiveProfiles;
import org.springframework.test.context.TestPropertySource;
import org.springframework.test.web.servlet.MockMvc;

@PageTest
@ActiveProfiles("demo")
@TestPropertySource(properties = "earslot.fits.every=PT24H")
class DemoAccountsTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private Accounts accounts;

    @Autowired
    private Clinics clinics;

    @Autowired
    private DemoAccounts demo;

    @Autowired
    private AccountAdministration accountAdministration;

    @Value("${earslot.demo.api-key}")
    private String key;

    @Test
    void are_shown_on_the_sign_in_page_and_let_people_and_one_program_in() throws Exception {
        ClinicId clinic = accounts.findBySignInName("lead").orElseThrow().clinicId();
        int made = accounts.findAll().size();
        demo.open(clinic);
        assertThat(accounts.findAll()).as("no second set").hasSize(made);
        accountAdministration.admit(clinic, "made-since", "Made since", Role.RECEPTIONIST, null);

        assertThat(demo.shown()).extracting(DemoAccounts.Shown::role).contains(Role.values());
        for (DemoAccounts.Shown shown : demo.shown()) {
            mvc.perform(get("/sign-in"))
                    .andExpect(content().string(Matchers.containsString(shown.password())))
                    .andExpect(content().string(Matchers.not(Matchers.containsString("made-since"))));
            mvc.perform(post("/sign-in")
                            .with(csrf())
                            .param("username", shown.signInName())
                            .param("password", shown.password()))
                    .andExpect(redirectedUrl("/"));
        }
        assertThat(key).matches("[0-9a-f]{64}");
        mvc.perform(get("/api/v1/nothing").with(httpBasic(DemoAccounts.PROGRAM, key)))
                .andExpect(status().isNotFound());
    }

    @Test
    void mark_the_database_as_the_demos() {
        assertThat(clinics.existsByDemo(true)).isTrue();
        assertThat(clinics.existsByDemo(false)).isFalse();
    }

    @Test
    void leave_no_first_sign_in_open() throws Exception {
        mvc.perform(get("/first-sign-in")).andExpect(status().isNotFound());
    }
}
