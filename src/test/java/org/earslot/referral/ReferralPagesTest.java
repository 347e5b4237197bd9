package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.contains;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrlPattern;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.data.domain.Limit;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;

@PageTest
class ReferralPagesTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Referrals referrals;

    private ClinicId clinic;
    private UUID practitioner;

    @BeforeEach
    void opensAClinic() {
        TestClinics.TestClinic opened = clinics.open();
        clinic = opened.id();
        practitioner = opened.p1();
    }

    @Test
    void takes_a_referral_in_and_shows_it() throws Exception {
        String page = mvc.perform(post("/referrals")
                        .with(SignedIn.receptionist(clinic))
                        .with(csrf())
                        .param("noneFlagged", "yes")
                        .param("familyName", "Wrenbottom")
                        .param("contact", "01632 960123")
                        .param("ears", "both")
                        .param("method", "manual_removal")
                        .param("cautions", "perforation")
                        .param("ear.perforation", "left")
                        .param("leftWax", "sticky"))
                .andExpect(status().is3xxRedirection())
                .andExpect(redirectedUrlPattern("/referrals/*"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        mvc.perform(get(page).with(SignedIn.receptionist(clinic)))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Wrenbottom")))
                .andExpect(content().string(containsString("contraindicated")))
                .andExpect(content().string(containsString("sticky")));
        mvc.perform(get(page + "/edit").with(SignedIn.receptionist(clinic))).andExpect(status().isOk());
        mvc.perform(get("/referrals").with(SignedIn.receptionist(clinic)))
                .andExpect(content().string(containsString("Wrenbottom")));
        mvc.perform(post("/patients")
                        .param("sought", "wren")
                        .with(SignedIn.receptionist(clinic))
                        .with(csrf()))
                .andExpect(redirectedUrlPattern("/patients/*"));
    }

    @ParameterizedTest
    @CsvSource({
        "softenerDays, 366",
        "softenerDays, -1",
        "softenerDays, five",
        "dateOfBirth, 2031-01-01",
        "dateOfBirth, 30/02/1960",
        "method, laser",
        "ears, three",
        "cautions, dragons",
        "priority, whenever",
        "leftWax, gold",
        "receivedOn, 1492-10-12"
    })
    void says_what_is_wrong_keeps_what_was_typed_and_saves_nothing(String field, String value) throws Exception {
        mvc.perform(post("/referrals")
                        .with(SignedIn.receptionist(clinic))
                        .with(csrf())
                        .param("familyName", "Wrenbottom")
                        .param("contact", "01632 960123")
                        .param(field, value)
                        .param("ears", field.equals("ears") ? new String[0] : new String[] {"both"})
                        .param("method", field.equals("method") ? new String[0] : new String[] {"irrigation"}))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("Please ")))
                .andExpect(content().string(containsString("Wrenbottom")));
        assertThat(referrals.standingAt(clinic, "ready_to_book", Limit.of(10))).isEmpty();
    }

    @Test
    void keeps_a_referral_with_a_red_flag_for_triage_by_a_clinician() throws Exception {
        String page = mvc.perform(post("/referrals")
                        .with(SignedIn.receptionist(clinic))
                        .with(csrf())
                        .param("nameUnknown", "yes")
                        .param("ears", "left")
                        .param("method", "irrigation")
                        .param("redFlag", "sudden loss since Tuesday"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        assertThat(referrals.standingAt(clinic, "to_triage", Limit.of(10))).hasSize(1);
        mvc.perform(post(page + "/red-flag/cleared")
                        .param("decided", "old news")
                        .with(SignedIn.practitioner(clinic, practitioner))
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(referrals.standingAt(clinic, "ready_to_book", Limit.of(10))).hasSize(1);
    }

    @Test
    void shows_nothing_of_another_clinic() throws Exception {
        ClinicId other = clinics.open().id();
        String page = mvc.perform(post("/referrals")
                        .with(SignedIn.receptionist(other))
                        .with(csrf())
                        .param("familyName", "Elsewhere")
                        .param("contact", "01632 960123")
                        .param("ears", "left")
                        .param("method", "irrigation"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        mvc.perform(get(page).with(SignedIn.lead(clinic))).andExpect(status().isNotFound());
        mvc.perform(get("/referrals").with(SignedIn.lead(clinic)))
                .andExpect(content().string(not(containsString("Elsewhere"))));
    }

    @Test
    void shows_hostile_text_as_text() throws Exception {
        String page = mvc.perform(post("/referrals")
                        .with(SignedIn.receptionist(clinic))
                        .with(csrf())
                        .param("familyName", "<script>alert(1)</script>")
                        .param("contact", "01632 960123")
                        .param("ears", "left")
                        .param("method", "irrigation"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        mvc.perform(get(page).with(SignedIn.lead(clinic)))
                .andExpect(content().string(not(containsString("<script>alert"))));
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', quoteCharacter = '`', textBlock = """
            "cautions":["tinnitus"]                                                     | false
            "cautions":["tinnitus"],"cautionsAsked":null                                | false
            "cautions":["tinnitus"],"cautionsAsked":false                               | false
            "cautions":["tinnitus"],"cautionsAsked":true                                | true
            "cautions":[],"cautionsAsked":true                                          | true
            "cautions":[],"cautionsNotKnown":["tinnitus"],"cautionsAsked":true          | true
            "cautions":[],"cautionsNotKnown":["tinnitus"]                               | false
            """)
    void counts_the_list_of_cautions_as_asked_only_if_a_program_says_so(String part, boolean asked) throws Exception {
        String location = mvc.perform(post("/api/v1/referrals")
                        .with(SignedIn.program(clinic))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("{\"patientRef\":\"K000013\",\"method\":\"irrigation\",\"ears\":[\"left\"]," + part
                                + "}"))
                .andExpect(status().isCreated())
                .andReturn()
                .getResponse()
                .getHeader("Location");
        mvc.perform(get(location).with(SignedIn.program(clinic)))
                .andExpect(jsonPath("$.cautionsAsked").value(asked));
    }

    @Test
    void gives_programs_the_same_by_the_interface() throws Exception {
        String body = """
                {"patientRef":"K000012","method":"microsuction","ears":["right","left"],"firstVisit":true,
                 "cautions":["tinnitus"],"softenerDays":5,"reported":{"right":{"wax":"hard","canal":null},"left":{}}}""";
        String location = mvc.perform(post("/api/v1/referrals")
                        .with(SignedIn.program(clinic))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content(body))
                .andExpect(status().isCreated())
                .andExpect(jsonPath("$.id").exists())
                .andReturn()
                .getResponse()
                .getHeader("Location");
        mvc.perform(get(location).with(SignedIn.program(clinic)))
                .andExpect(jsonPath("$.ears", contains("right", "left")))
                .andExpect(jsonPath("$.reported.right.wax").value("hard"))
                .andExpect(jsonPath("$.firstVisit").value(true))
                .andExpect(jsonPath("$.hearingAid").doesNotExist());
    }
}
