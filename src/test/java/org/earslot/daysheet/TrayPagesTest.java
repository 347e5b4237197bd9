package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.List;
import org.earslot.ear.Canal;
import org.earslot.ear.Depth;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Wax;
import org.earslot.page.FormVersion;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** What to lay out: common practice until the lead says otherwise. */
class TrayPagesTest {

    private static final String ALWAYS = "specula, light or loupes, apron, tissues";
    private static final EarFindings HARD_AND_DEEP = new EarFindings(Wax.HARD, Canal.NARROW, Depth.DEEP_CANAL, null);

    abstract static class Rules {
        @Autowired
        private MockMvc mvc;

        @Autowired
        private TrayRules rules;

        @Autowired
        private TestClinics clinics;

        private TestClinics.TestClinic clinic;

        @BeforeEach
        void a_clinic() {
            clinic = clinics.open();
        }

        @Test
        void common_practice_holds_until_the_lead_changes_a_rule() throws Exception {
            assertThat(trays(Method.MANUAL_REMOVAL))
                    .containsExactly("hook; forceps in the outer third only", "long steel", "fine instruments", ALWAYS);
            assertThat(trays(Method.IRRIGATION)).containsExactly(ALWAYS);
            assertThat(trays(Method.MICROSUCTION)).containsExactly(ALWAYS);
            mvc.perform(get("/setup/trays").with(lead()))
                    .andExpect(status().isOk())
                    .andExpect(content().string(containsString("common practice, no source")));
            TrayRule fourth = rules.of(clinic.id()).get(3);
            mvc.perform(post("/setup/trays/4")
                            .param(
                                    "version",
                                    FormVersion.ofText(fourth.when() + " " + fourth.tray())
                                            .text())
                            .param("method", "manual_removal")
                            .param("wax", "hard")
                            .param("tray", "strong hook")
                            .with(csrf())
                            .with(lead()))
                    .andExpect(redirectedUrl("/setup/trays"));
            assertThat(trays(Method.MANUAL_REMOVAL))
                    .containsExactly("strong hook", "long steel", "fine instruments", ALWAYS);
            assertThat(rules.of(clinic.id()).stream().filter(TrayRule::commonPractice))
                    .hasSize(10);
        }

        @Test
        void rules_are_added_removed_and_put_back() throws Exception {
            mvc.perform(post("/setup/trays")
                            .param("method", "irrigation")
                            .param("tray", "warm water")
                            .with(csrf())
                            .with(lead()))
                    .andExpect(redirectedUrl("/setup/trays"));
            assertThat(trays(Method.IRRIGATION)).containsExactly(ALWAYS, "warm water");
            for (TrayRule rule : rules.of(clinic.id())) {
                mvc.perform(post("/setup/trays/" + rule.place())
                                .param("remove", "yes")
                                .with(csrf())
                                .with(lead()))
                        .andExpect(redirectedUrl("/setup/trays"));
            }
            assertThat(rules.of(clinic.id())).isEmpty();
            mvc.perform(get("/setup/trays").with(lead())).andExpect(content().string(containsString("No rules")));
            mvc.perform(post("/setup/trays/common-practice").with(csrf()).with(lead()))
                    .andExpect(redirectedUrl("/setup/trays"));
            assertThat(rules.of(clinic.id())).hasSize(11);
        }

        @Test
        void bad_input_comes_back_as_typed() throws Exception {
            mvc.perform(post("/setup/trays")
                            .param("wax", "lava")
                            .param("tray", "my tray")
                            .with(csrf())
                            .with(lead()))
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("value=\"my tray\"")))
                    .andExpect(content().string(containsString("one of loose, soft, sticky, firm, hard")));
            mvc.perform(post("/setup/trays")
                            .param("tray", "x".repeat(61))
                            .with(csrf())
                            .with(lead()))
                    .andExpect(status().isBadRequest());
            mvc.perform(post("/setup/trays")
                            .param("tray", "for everything")
                            .with(csrf())
                            .with(lead()))
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("at least one of method, wax, canal and depth")));
            mvc.perform(post("/setup/trays/99")
                            .param("remove", "yes")
                            .with(csrf())
                            .with(lead()))
                    .andExpect(status().isNotFound());
            mvc.perform(get("/setup/trays").with(SignedIn.receptionist(clinic.id())))
                    .andExpect(status().isForbidden());
        }

        private List<String> trays(Method method) {
            return TrayRules.trays(rules.of(clinic.id()), method, List.of(HARD_AND_DEEP));
        }

        private RequestPostProcessor lead() {
            return SignedIn.lead(clinic.id());
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Rules {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Rules {}
}
