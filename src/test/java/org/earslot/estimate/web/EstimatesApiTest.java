package org.earslot.estimate.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.earslot.estimate.InventedLog;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

@PageTest
class EstimatesApiTest {

    private static final String BOTH = """
            {"patientRef":"K000012","practitioner":"P1","method":"microsuction","ears":["right","left"],
             "firstVisit":true,"hearingAid":false,"cautions":["tinnitus"],"softenerDays":5,
             "reported":{"right":{"wax":"hard","canal":null,"depth":null},"left":{}}}""";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private InventedLog log;

    private TestClinic clinic;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open();
    }

    private ResultActions ask(String body) throws Exception {
        return mvc.perform(post("/api/v1/estimates")
                .contentType(MediaType.APPLICATION_JSON)
                .content(body)
                .with(SignedIn.program(clinic.id())));
    }

    private static JsonNode answer(ResultActions asked) throws Exception {
        return JsonMapper.shared()
                .readTree(asked.andExpect(status().isOk())
                        .andReturn()
                        .getResponse()
                        .getContentAsString());
    }

    @Test
    void one_visit_is_answered_with_its_minutes_reasons_and_questions() throws Exception {
        JsonNode estimate = answer(ask(BOTH));
        assertThat(estimate.path("version").stringValue()).isEqualTo("assumed");
        assertThat(estimate.path("meanMinutes").doubleValue()).isBetween(5.0, 60.0);
        assertThat(estimate.path("quantiles").propertyNames())
                .containsExactly("0.1", "0.25", "0.5", "0.75", "0.8", "0.9", "0.95");
        assertThat(estimate.path("slotMinutes").intValue() % 5).isZero();
        double sum = 0;
        for (JsonNode line : estimate.path("why")) {
            assertThat(line.path("item").stringValue()).isNotBlank();
            sum += line.path("minutes").doubleValue();
        }
        assertThat(sum).isCloseTo(estimate.path("quantiles").path("0.5").doubleValue(), within(0.005));
        assertThat(estimate.path("inRoom").path("quantiles").path("0.9").doubleValue())
                .isLessThanOrEqualTo(estimate.path("quantiles").path("0.9").doubleValue());
        for (JsonNode question : estimate.path("ask")) {
            assertThat(question.path("finding").stringValue()).doesNotContain("right.wax");
            assertThat(question.path("whoCanAnswer").stringValue()).isIn("patient", "referrer", "practitioner");
            assertThat(question.path("savesMinutes").doubleValue()).isNotNegative();
        }
    }

    @Test
    void many_visits_are_answered_in_order() throws Exception {
        String one = "{\"method\":\"microsuction\",\"ears\":[\"right\"]}";
        JsonNode answers = answer(ask("[" + one + "," + BOTH + "," + one + "]"));
        assertThat(answers.size()).isEqualTo(3);
        assertThat(answers.get(0)).isEqualTo(answers.get(2)).isNotEqualTo(answers.get(1));
        assertThat(answer(ask("[]")).size()).isZero();
    }

    @Test
    void a_thousand_are_answered_at_once_and_one_more_is_refused() throws Exception {
        String all = IntStream.range(0, 1000).mapToObj(i -> BOTH).collect(Collectors.joining(",", "[", "]"));
        assertThat(answer(ask(all)).size()).isEqualTo(1000);
        ask(all.replace("]}}]", "]}},{}]").replaceFirst("^\\[", "[{},"))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("body"));
    }

    @Test
    void all_that_is_wrong_is_said_by_path() throws Exception {
        ask("""
            [{"method":"microsuction","ears":["right"]},
             {"method":"vacuum","ears":["right","right"],"practitioner":"Nobody","firstVisit":"yes","softenerDays":2.5,
              "cautions":["tinnitus","haste"],"reported":{"right":{"wax":"green"},"left":7}},
             4]""")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.code").value("invalid"))
                .andExpect(jsonPath("$.problems[*].field")
                        .value(org.hamcrest.Matchers.contains(
                                "[1].method",
                                "[1].ears",
                                "[1].practitioner",
                                "[1].firstVisit",
                                "[1].cautions[1]",
                                "[1].softenerDays",
                                "[1].reported.right.wax",
                                "[1].reported.left",
                                "[2]")))
                .andExpect(jsonPath("$.problems[0].allowed").value("irrigation, microsuction, manual_removal"));
        ask("{}")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[*].field").value(org.hamcrest.Matchers.contains("method", "ears")));
    }

    @Test
    void a_text_that_is_no_json_is_refused_with_its_place() throws Exception {
        ask("{\"method\":")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("body"));
        ask("").andExpect(status().is4xxClientError());
    }

    @Test
    void only_a_program_may_ask() throws Exception {
        mvc.perform(post("/api/v1/estimates")
                        .contentType(MediaType.APPLICATION_JSON)
                        .content(BOTH))
                .andExpect(status().isUnauthorized());
        mvc.perform(post("/api/v1/estimates")
                        .contentType(MediaType.APPLICATION_JSON)
                        .content(BOTH)
                        .with(SignedIn.lead(clinic.id())))
                .andExpect(status().isForbidden());
        mvc.perform(post("/api/v1/estimator/fit").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isForbidden());
    }

    @Test
    void a_fit_is_made_and_told_of() throws Exception {
        mvc.perform(get("/api/v1/estimator").with(SignedIn.program(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.version").value("assumed"))
                .andExpect(jsonPath("$.visits").value(0));
        int kept = log.keep(clinic, 3, 80).size();
        mvc.perform(post("/api/v1/estimator/fit").with(SignedIn.program(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.visits").value(kept))
                .andExpect(jsonPath("$.censored").isNumber())
                .andExpect(jsonPath("$.seconds").isNumber())
                .andExpect(jsonPath("$.score.crps").isNumber())
                .andExpect(jsonPath("$.score.pinball").isNumber())
                .andExpect(jsonPath("$.score.coverage['0.8']").isNumber());
        String version = JsonMapper.shared()
                .readTree(mvc.perform(get("/api/v1/estimator").with(SignedIn.program(clinic.id())))
                        .andExpect(jsonPath("$.visits").value(kept))
                        .andReturn()
                        .getResponse()
                        .getContentAsString())
                .path("version")
                .stringValue();
        assertThat(answer(ask(BOTH)).path("version").stringValue()).isEqualTo(version);
    }
}
