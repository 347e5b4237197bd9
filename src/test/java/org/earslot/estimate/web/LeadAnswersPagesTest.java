package org.earslot.estimate.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.allOf;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.Fits;
import org.earslot.estimate.LeadKnowledge;
import org.earslot.estimate.VisitPlan;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** The lead says what visits take. */
@PageTest
class LeadAnswersPagesTest {

    private static final VisitPlan SUCTION = VisitPlan.of(Method.MICROSUCTION, Ears.RIGHT);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Estimates estimates;

    @Autowired
    private Fits fits;

    @Autowired
    private LeadKnowledge knowledge;

    @Autowired
    private JdbcTemplate jdbc;

    private TestClinic clinic;
    private RequestPostProcessor lead;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open();
        lead = SignedIn.lead(clinic.id());
    }

    @Test
    void asks_with_every_field_empty_and_shows_no_picture_yet() throws Exception {
        mvc.perform(get("/estimator/answers").with(lead))
                .andExpect(status().isOk())
                .andExpect(content()
                        .string(allOf(
                                containsString("One ear, hard wax"),
                                containsString("name=\"over-microsuction-both\""),
                                not(containsString("What your answers imply")),
                                not(containsString("??")))));
    }

    @Test
    void answers_change_the_estimates_and_the_page_shows_what_they_imply() throws Exception {
        Estimate before = estimates.estimate(clinic.id(), SUCTION);

        say("usual-microsuction-one", "6", "over-microsuction-one", "9");
        fits.fit(clinic.id());

        Estimate after = estimates.estimate(clinic.id(), SUCTION);
        assertThat(after.median()).isLessThan(0.75 * before.median());
        assertThat(after.restsOn().answersFirst()).isTrue();
        assertThat(after.assumed()).isFalse();
        mvc.perform(get("/estimator/answers").with(lead))
                .andExpect(content()
                        .string(allOf(
                                containsString("What your answers imply"),
                                containsString("You said: usually 6, one in ten over 9."),
                                containsString("class=\"estimate-picture\""),
                                containsString("value=\"9\""),
                                containsString("by lead"))));
        mvc.perform(get("/estimate?method=microsuction&ears=right").with(lead))
                .andExpect(content().string(containsString("Rests on what the lead says of usual minutes.")));
    }

    @Test
    void says_beside_the_field_what_is_wrong_and_stores_nothing() throws Exception {
        mvc.perform(post("/estimator/answers")
                        .with(lead)
                        .with(csrf())
                        .param("usual-microsuction-one", "20")
                        .param("over-microsuction-one", "15")
                        .param("over-irrigation-one", "15")
                        .param("usual-irrigation-both", "181"))
                .andExpect(status().isBadRequest())
                .andExpect(content()
                        .string(allOf(
                                containsString("3 fields need"),
                                containsString("id=\"over-microsuction-one-problem\""),
                                containsString("more than the usual 20 minutes"),
                                containsString("id=\"usual-irrigation-one-problem\""),
                                containsString("id=\"usual-irrigation-both-problem\""),
                                containsString("value=\"181\""))));
        assertThat(knowledge.latest(clinic.id())).isEmpty();
    }

    @Test
    void a_change_is_undone_by_putting_the_answers_before_it_in_force() throws Exception {
        say("usual-microsuction-one", "12");
        say("usual-microsuction-one", "15");

        undo();
        assertThat(knowledge.answers(clinic.id()).text()).isEqualTo("microsuction-one=12");
        undo();
        assertThat(knowledge.answers(clinic.id()).text()).isEqualTo("microsuction-one=15");

        assertThat(jdbc.queryForList(
                        "select detail from audit_entry where clinic_id = ? and action like 'lead-answers-%' order by id",
                        String.class, clinic.id().value()))
                .containsExactly(
                        "minutes: microsuction-one=12",
                        "minutes: microsuction-one=15",
                        "minutes: microsuction-one=12",
                        "minutes: microsuction-one=15");
    }

    @Test
    void saying_the_same_again_changes_nothing_and_emptying_withdraws_it() throws Exception {
        say("usual-microsuction-one", "12");
        say("usual-microsuction-one", "12");
        assertThat(rows()).isEqualTo(1);

        say("usual-microsuction-one", "");
        assertThat(knowledge.answers(clinic.id()).isEmpty()).isTrue();
        mvc.perform(get("/estimator/answers").with(lead))
                .andExpect(content().string(containsString("nothing of it is used now")));
    }

    @Test
    void programs_read_the_answers() throws Exception {
        say("usual-microsuction-one", "12", "over-microsuction-one", "20");

        mvc.perform(get("/api/v1/estimator/answers").with(SignedIn.program(clinic.id())))
                .andExpect(jsonPath("$.minutes.microsuction-one.usual").value(12))
                .andExpect(jsonPath("$.minutes.microsuction-one.oneInTenOver").value(20))
                .andExpect(jsonPath("$.at").isNotEmpty());
    }

    private int rows() {
        Integer rows = jdbc.queryForObject(
                "select count(*) from lead_answers where clinic_id = ?",
                Integer.class,
                clinic.id().value());
        return rows == null ? 0 : rows;
    }

    private void undo() throws Exception {
        mvc.perform(post("/estimator/answers/undo").with(lead).with(csrf()))
                .andExpect(redirectedUrl("/estimator/answers"));
    }

    private void say(String... fields) throws Exception {
        var request = post("/estimator/answers").with(lead).with(csrf());
        for (int i = 0; i < fields.length; i += 2) {
            request.param(fields[i], fields[i + 1]);
        }
        mvc.perform(request).andExpect(redirectedUrl("/estimator/answers"));
    }
}
