package org.earslot.estimate.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.allOf;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import java.util.List;
import org.awaitility.Awaitility;
import org.earslot.estimate.Fits;
import org.earslot.estimate.InventedLog;
import org.earslot.estimate.Snapshot;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class EstimatePagesTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private InventedLog log;

    @Autowired
    private Fits fits;

    @Autowired
    private SettableClock clock;

    @Autowired
    private JdbcTemplate jdbc;

    private TestClinic clinic;
    private RequestPostProcessor lead;
    private RequestPostProcessor receptionist;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open();
        lead = SignedIn.lead(clinic.id());
        receptionist = SignedIn.receptionist(clinic.id());
    }

    @Test
    void estimate_opens_for_all_people_and_asks_for_method_and_ears() throws Exception {
        for (RequestPostProcessor person :
                List.of(receptionist, lead, SignedIn.practitioner(clinic.id(), clinic.p1()))) {
            mvc.perform(get("/estimate").with(person))
                    .andExpect(status().isOk())
                    .andExpect(content()
                            .string(allOf(
                                    containsString("Choose the method and the ears"),
                                    containsString("manual removal"),
                                    not(containsString("??")))));
        }
    }

    @Test
    void estimate_sends_the_anonymous_visitor_to_the_sign_in() throws Exception {
        mvc.perform(get("/estimate")).andExpect(status().is3xxRedirection());
        mvc.perform(get("/estimator")).andExpect(status().is3xxRedirection());
    }

    @Test
    void estimate_works_without_scripts() throws Exception {
        mvc.perform(get("/estimate")
                        .param("method", "manual_removal")
                        .param("ears", "both")
                        .param("practitioner", clinic.p1().toString())
                        .param("rightWax", "loose")
                        .param("cautions", "tinnitus")
                        .param("softenerDays", "")
                        .with(receptionist))
                .andExpect(status().isOk())
                .andExpect(content()
                        .string(allOf(
                                containsString("takes longer"),
                                containsString("right ear, manual removal"),
                                containsString("right ear: loose wax"),
                                containsString("right ear: tinnitus"),
                                containsString("patients differ"),
                                containsString("No past visits yet"),
                                not(containsString("??")))));
    }

    @Test
    void panel_answers_alone_while_a_form_is_filled_in() throws Exception {
        mvc.perform(post("/estimate/panel")
                        .param("method", "microsuction")
                        .param("ears", "left")
                        .param("familyName", "Nobody")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isOk())
                .andExpect(content().string(allOf(containsString("Book "), not(containsString("<html")))));
        mvc.perform(post("/estimate/panel")
                        .param("method", "")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Choose the method and the ears")));
    }

    @Test
    void panel_refuses_a_forged_request() throws Exception {
        mvc.perform(post("/estimate/panel").param("method", "microsuction").with(receptionist))
                .andExpect(status().isForbidden());
    }

    @Test
    void estimate_says_everything_that_is_wrong_and_keeps_what_was_typed() throws Exception {
        mvc.perform(get("/estimate")
                        .param("method", "vacuum")
                        .param("softenerDays", "400")
                        .param("practitioner", "nobody")
                        .param("leftCanal", "crooked")
                        .param("cautions", "haste")
                        .with(receptionist))
                .andExpect(status().isBadRequest())
                .andExpect(content()
                        .string(allOf(
                                containsString("irrigation, microsuction, manual_removal"),
                                containsString("a whole number from 0 to 365"),
                                containsString("a practitioner of this clinic"),
                                containsString("wide, average, narrow, very_narrow"),
                                containsString("value=\"400\""),
                                not(containsString("Book ")))));
    }

    @Test
    void a_practitioner_of_another_clinic_is_none_of_this_one() throws Exception {
        mvc.perform(get("/estimate")
                        .param("method", "microsuction")
                        .param("ears", "left")
                        .param("practitioner", clinics.open().p1().toString())
                        .with(receptionist))
                .andExpect(status().isBadRequest());
    }

    @Test
    void estimator_is_for_the_lead_alone() throws Exception {
        mvc.perform(get("/estimator").with(receptionist)).andExpect(status().isForbidden());
        mvc.perform(get("/estimator").with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isForbidden());
        mvc.perform(post("/estimator/fit").with(receptionist).with(csrf())).andExpect(status().isForbidden());
        mvc.perform(post("/estimator/in-force")
                        .param("version", "v")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isForbidden());
        mvc.perform(get("/estimator").with(lead))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Nothing has been learnt from your visits yet")));
    }

    @Test
    void fit_now_runs_behind_the_page_and_says_how_good_it_is() throws Exception {
        log.keep(clinic, 3, 80);
        mvc.perform(post("/estimator/fit").with(lead).with(csrf())).andExpect(redirectedUrl("/estimator"));
        Awaitility.await()
                .atMost(Duration.ofSeconds(90))
                .until(() -> fits.inForce(clinic.id()).isPresent()
                        && fits.underWay(clinic.id()).isEmpty());
        mvc.perform(get("/estimator/progress").with(lead))
                .andExpect(status().isOk())
                .andExpect(result ->
                        assertThat(result.getResponse().getHeader("HX-Refresh")).isEqualTo("true"));
        mvc.perform(get("/estimator").with(lead))
                .andExpect(status().isOk())
                .andExpect(content()
                        .string(allOf(
                                containsString("How good it is"),
                                containsString("slots by method and ears"),
                                containsString("If stops fall on hard visits"),
                                containsString("What is weak"),
                                containsString("There are only "),
                                containsString("How far reports can be relied on, by referrer"),
                                containsString("Visits by the tenth of the forecast"),
                                containsString("in use"),
                                not(containsString("??")))));
    }

    @Test
    void an_earlier_fit_is_put_in_force_again() throws Exception {
        log.keep(clinic, 3, 40);
        Snapshot first = fits.fit(clinic.id());
        jdbc.update("delete from visit where clinic_id = ?", clinic.id().value());
        clock.advance(Duration.ofMinutes(1));
        fits.fit(clinic.id());
        mvc.perform(post("/estimator/in-force")
                        .param("version", first.version())
                        .with(lead)
                        .with(csrf()))
                .andExpect(redirectedUrl("/estimator"));
        assertThat(fits.inForce(clinic.id()).orElseThrow().version()).isEqualTo(first.version());
        mvc.perform(post("/estimator/in-force")
                        .param("version", "2020-01-01.00000000")
                        .with(lead)
                        .with(csrf()))
                .andExpect(status().isBadRequest());
    }
}
