package org.earslot.page;

import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.hasItem;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.put;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;

/** Nothing that a program sends is ignored: what is not known is refused, with what is allowed. */
@PageTest
class NothingIgnoredTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    private ClinicId clinic;

    @BeforeEach
    void a_clinic() {
        clinic = clinics.open().id();
    }

    /** A red flag that is misspelt must not become a patient who is booked as routine. */
    @ParameterizedTest
    @CsvSource(delimiter = '|', quoteCharacter = '`', textBlock = """
            "redFlags":{"sudden_hearing_loss":true}        | redFlags            | sudden_loss_recent
            "redFlags":{"SUDDEN_LOSS_RECENT":true}         | redFlags            | sudden_loss_recent
            "redflags":{"sudden_loss_recent":true}         | redflags            | redFlags
            "red_flags":{"sudden_loss_recent":true}        | red_flags           | redFlags
            "cautions":["nonsense"]                        | cautions            | tinnitus
            "cautions":[null]                              | cautions[0]         | no null
            "cautionsNotKnown":["nonsense"]                | cautionsNotKnown    | tinnitus
            "cautionsNotKnown":[null]                      | cautionsNotKnown[0] | no null
            "cautionDetails":{"nonsense":{}}               | cautionDetails      | tinnitus
            "cautionDetails":{"tinnitus":{}}               | cautionDetails.tinnitus | cautions
            "cautions":["tinnitus"],"cautionsNotKnown":["tinnitus"] | cautionsNotKnown | either
            "cautions":["tinnitus"],"cautionDetails":{"tinnitus":null}       | cautionDetails | no null
            "cautions":["tinnitus"],"cautionDetails":{"tinnitus":{"eer":1}}  | cautionDetails | ear, method, since
            "reported":{"Right":{"wax":"hard"}}            | reported.Right      | left, right
            "reported":{"right":{"vax":"hard"}}            | reported.right.vax  | wax
            "ears":[null,"right"]                          | ears[0]             | no null
            "id":"00000000-0000-0000-0000-000000000000"    | id                  | nothing
            "status":"booked"                              | status              | nothing
            """)
    void refuses_what_a_referral_does_not_know(String part, String field, String allowed) throws Exception {
        String ears = part.contains("\"ears\"") ? "" : "\"ears\":[\"left\"],";
        String body = "{\"patientRef\":\"K000012\",\"method\":\"irrigation\"," + ears + part + "}";
        send(post("/api/v1/referrals"), body)
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value(containsString(field)))
                .andExpect(jsonPath("$.problems[0].allowed").value(containsString(allowed)));
        mvc.perform(get("/referrals?status=ready_to_book").with(SignedIn.lead(clinic)))
                .andExpect(content().string(not(containsString("K000012"))));
    }

    @Test
    void refuses_a_field_named_twice() throws Exception {
        send(
                        post("/api/v1/referrals"),
                        "{\"patientRef\":\"K1\",\"method\":\"irrigation\",\"ears\":[\"left\"],"
                                + "\"redFlags\":{\"sudden_loss_recent\":true},\"redFlags\":{}}")
                .andExpect(status().isBadRequest());
    }

    @Test
    void refuses_a_list_longer_than_its_words_at_once() throws Exception {
        String many = IntStream.range(0, 5000).mapToObj(i -> "\"x\"").collect(Collectors.joining(","));
        String visit = "{\"method\":\"irrigation\",\"ears\":[\"right\"],\"cautions\":[" + many + "]}";
        for (String path : new String[] {"/api/v1/referrals", "/api/v1/estimates"}) {
            send(post(path), visit)
                    .andExpect(status().isBadRequest())
                    .andExpect(jsonPath("$.problems.length()").value(1))
                    .andExpect(jsonPath("$.problems[0].field").value("cautions"))
                    .andExpect(jsonPath("$.problems[0].given").value("5000"));
        }
    }

    @Test
    void gathers_at_most_200_problems() throws Exception {
        String many = IntStream.range(0, 300)
                .mapToObj(i -> "{\"method\":\"x\",\"ears\":[\"right\"]}")
                .collect(Collectors.joining(",", "[", "]"));
        send(post("/api/v1/estimates"), many)
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems.length()").value(200));
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', quoteCharacter = '`', textBlock = """
            "metod":1                                      | metod               | method
            "reported":{"Right":{}}                        | reported.Right      | right, left
            "reported":{"right":{"vax":1}}                 | reported.right.vax  | wax
            "cautions":[null]                              | cautions[0]         | tinnitus
            """)
    void refuses_what_an_estimate_does_not_know(String part, String field, String allowed) throws Exception {
        send(post("/api/v1/estimates"), "{\"method\":\"irrigation\",\"ears\":[\"left\"]," + part + "}")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value(field))
                .andExpect(jsonPath("$.problems[0].allowed").value(containsString(allowed)));
    }

    @Test
    void refuses_what_appointments_and_findings_do_not_know() throws Exception {
        String id = "/api/v1/appointments/" + UUID.randomUUID();
        send(post("/api/v1/appointments"), "{\"referal\":\"x\"}")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].allowed").value(containsString("referral, session")));
        send(put(id + "/findings"), "{\"rigth\":{}}")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].allowed").value(containsString("left, nextStep, note, right")));
        send(put(id + "/findings"), "{\"right\":{\"methods\":[null]}}").andExpect(status().isBadRequest());
        send(post(id + "/clock"), "{\"event\":\"arrived\",\"when\":\"now\"}").andExpect(status().isBadRequest());
    }

    @ParameterizedTest
    @CsvSource({
        "/api/v1/slots?referral=00000000-0000-0000-0000-000000000000&fron=2026-03-04, fron",
        "/api/v1/visit-log?since=2026-03-04, since",
        "/api/v1/estimator?version=1, version",
        "/api/v1/days/2026-03-04?practitioner=P1, practitioner",
        "/api/v1/reviews/2026-02?whose=P1, whose"
    })
    void refuses_unknown_parameters_of_an_address(String address, String name) throws Exception {
        mvc.perform(get(address).with(SignedIn.program(clinic)))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[*].field", hasItem(name)));
    }

    /** A NUL is refused before any query sees it, in forms, searches and the sign-in. */
    @ParameterizedTest
    @ValueSource(strings = {"/patients", "/referrals", "/sign-in", "/setup/rooms"})
    void refuses_a_nul_in_a_form(String form) throws Exception {
        mvc.perform(post(form)
                        .param("sought", "a\0b")
                        .param("username", "a\0b")
                        .param("name", "a\0b")
                        .with(SignedIn.lead(clinic))
                        .with(csrf()))
                .andExpect(status().isBadRequest());
    }

    @Test
    void refuses_a_nul_in_an_address() throws Exception {
        mvc.perform(get("/audit").param("who", "a\0b").with(SignedIn.lead(clinic)))
                .andExpect(status().isBadRequest());
        mvc.perform(get("/api/v1/slots").param("practitioner", "a\0b").with(SignedIn.program(clinic)))
                .andExpect(status().isBadRequest());
        String visit = "{\"method\":\"irrigation\",\"ears\":[\"left\"],\"patientRef\":\"a\\u0000b\"}";
        send(post("/api/v1/estimates"), visit).andExpect(status().isBadRequest());
        send(post("/api/v1/referrals"), visit).andExpect(status().isBadRequest());
    }

    @ParameterizedTest
    @ValueSource(strings = {"one\ntwo", "one\rtwo", "one\ttwo", "one\u202Etwo", "one\u2066two", "one\u2028two"})
    void refuses_control_characters_in_a_line(String name) throws Exception {
        mvc.perform(post("/setup/rooms")
                        .param("name", name)
                        .param("active", "yes")
                        .with(SignedIn.lead(clinic))
                        .with(csrf()))
                .andExpect(status().isBadRequest());
    }

    private ResultActions send(MockHttpServletRequestBuilder request, String body) throws Exception {
        return mvc.perform(
                request.contentType(MediaType.APPLICATION_JSON).content(body).with(SignedIn.program(clinic)));
    }
}
