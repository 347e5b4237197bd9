package org.earslot.patient;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrlPattern;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.referral.RedFlag;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Who the patient of a referral is: said plainly, asked where two differ, and never overwritten without a trace. */
@PageTest
class PatientIdentityTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Patients patients;

    @Autowired
    private PatientChanges changes;

    @Autowired
    private Referrals referrals;

    private ClinicId clinic;
    private RequestPostProcessor receptionist;

    @BeforeEach
    void a_clinic_with_a_patient() throws Exception {
        clinic = clinics.open().id();
        receptionist = SignedIn.receptionist(clinic);
        send(form("Acornbutton", "Wyllory", "1965-02-02").param("localNumber", "K0883"))
                .andExpect(status().is3xxRedirection());
    }

    @Test
    void shows_both_side_by_side_if_a_number_is_somebody_elses() throws Exception {
        send(form("Wrongperson", "Wanda", "1999-09-09").param("localNumber", "K0883"))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("Acornbutton")))
                .andExpect(content().string(containsString("Wrongperson")))
                .andExpect(content().string(containsString("Same person: correct the details")))
                .andExpect(content().string(containsString("Another person: give a new number")));
        assertThat(known().displayName()).isEqualTo("Acornbutton, Wyllory");
        assertThat(patients.countByClinicId(clinic)).isEqualTo(1);
    }

    @Test
    void gives_another_person_a_new_number() throws Exception {
        send(form("Wrongperson", "Wanda", "1999-09-09")
                        .param("localNumber", "K0883")
                        .param("newNumber", "yes"))
                .andExpect(status().is3xxRedirection());
        assertThat(known().displayName()).isEqualTo("Acornbutton, Wyllory");
        assertThat(patients.known(clinic, "N00002").or(() -> patients.known(clinic, "N00001")))
                .map(Patient::displayName)
                .contains("Wrongperson, Wanda");
    }

    @Test
    void corrects_the_same_person_and_keeps_what_was_known_before() throws Exception {
        send(form("Acornbotton", "Wyllory", "1965-02-02")
                        .param("localNumber", "K0883")
                        .param("samePerson", "K0883"))
                .andExpect(status().is3xxRedirection());
        assertThat(known().displayName()).isEqualTo("Acornbotton, Wyllory");
        assertThat(changes.findByClinicIdAndPatientIdOrderByChangedAt(clinic, known().id()))
                .singleElement()
                .satisfies(change -> {
                    assertThat(change.fields()).isEqualTo("familyName");
                    assertThat(change.changedBy()).isEqualTo("receptionist");
                    assertThat(change.detailsBefore()).contains("Acornbutton");
                });
        mvc.perform(get("/audit").with(SignedIn.lead(clinic)))
                .andExpect(content().string(containsString("patient amended")))
                .andExpect(content().string(containsString("familyName")))
                .andExpect(content().string(not(containsString("Acornbutton"))));
    }

    @Test
    void takes_the_same_name_in_other_capitals_without_asking() throws Exception {
        send(form("ACORNBUTTON", " wyllory", "1965-02-02").param("localNumber", "K0883"))
                .andExpect(status().is3xxRedirection());
    }

    @ParameterizedTest
    @CsvSource({
        "Wrongperson, Wyllory, 1965-02-02, familyName",
        "Acornbutton, Wanda, 1965-02-02, givenName",
        "Acornbutton, Wyllory, 1999-09-09, dateOfBirth"
    })
    void tells_a_program_that_the_patient_differs(String family, String given, String born, String field)
            throws Exception {
        program("{\"patientRef\":\"K0883\",\"familyName\":\"" + family + "\",\"givenName\":\"" + given
                        + "\",\"dateOfBirth\":\"" + born + "\",\"method\":\"irrigation\",\"ears\":[\"left\"]}")
                .andExpect(status().isConflict())
                .andExpect(jsonPath("$.code").value("patient-differs"))
                .andExpect(jsonPath("$.problems[0].field").value(field))
                .andExpect(content().string(not(containsString("Acornbutton"))));
        assertThat(known().displayName()).isEqualTo("Acornbutton, Wyllory");
    }

    @Test
    void lets_a_program_name_a_known_patient_by_the_number_alone() throws Exception {
        program("{\"patientRef\":\"K0883\",\"method\":\"irrigation\",\"ears\":[\"left\"]}")
                .andExpect(status().isCreated());
        assertThat(known().displayName()).isEqualTo("Acornbutton, Wyllory");
    }

    @Test
    void takes_the_postal_address_from_a_program_and_gives_it_back() throws Exception {
        String lines = "7 Thistle Row\nUnderwhistle";
        String address = program("{\"patientRef\":\"K0883\",\"postalAddress\":\"7 Thistle Row\\r\\nUnderwhistle\","
                        + "\"method\":\"irrigation\",\"ears\":[\"left\"]}")
                .andExpect(status().isCreated())
                .andReturn()
                .getResponse()
                .getHeader("Location");
        assertThat(known().details().postalAddress()).isEqualTo(lines);
        mvc.perform(get(address).with(SignedIn.program(clinic)))
                .andExpect(jsonPath("$.postalAddress").value(lines));
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', quoteCharacter = '`', textBlock = """
            ""                                                        | 400 | familyName
            "familyName":"Wren"                                       | 400 | dateOfBirth
            "dateOfBirth":"1980-01-01"                                | 400 | familyName
            "nameUnknown":true,"familyName":"Wren"                    | 400 | nameUnknown
            "nameUnknown":false                                       | 400 | familyName
            "nameUnknown":true                                        | 201 | -
            "patientRef":"X1"                                         | 201 | -
            "familyName":"Wren","contact":"01632 960123"              | 201 | -
            "familyName":"Wren","dateOfBirth":"1980-01-01"            | 201 | -
            """)
    void needs_to_know_who_a_new_patient_is(String person, int expected, String field) throws Exception {
        String said = person.equals("\"\"") ? "" : person + ",";
        ResultActions answer = program("{" + said + "\"method\":\"irrigation\",\"ears\":[\"left\"]}")
                .andExpect(status().is(expected));
        if (expected == 400) {
            answer.andExpect(jsonPath("$.problems[0].field").value(field));
        }
    }

    @Test
    void saves_nobody_without_a_name_unless_that_is_ticked() throws Exception {
        send(unnamed()).andExpect(status().isBadRequest());
        send(unnamed().param("familyName", "Wren")).andExpect(status().isBadRequest());
        String page = send(unnamed().param("nameUnknown", "yes"))
                .andExpect(redirectedUrlPattern("/referrals/*"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        mvc.perform(get(page).with(receptionist))
                .andExpect(content().string(containsString("The name of this patient is not known.")));
        mvc.perform(get(page + "/edit").with(receptionist))
                .andExpect(content().string(containsString("name=\"nameUnknown\" value=\"yes\" checked")));
    }

    @Test
    void names_every_wrong_field_with_a_link_to_it() throws Exception {
        String page = send(post("/referrals").param("softenerDays", "many"))
                .andExpect(status().isBadRequest())
                .andReturn()
                .getResponse()
                .getContentAsString();
        Document shown = Jsoup.parse(page);
        assertThat(shown.select(".problems a").eachAttr("href"))
                .contains("#ears", "#method", "#familyName", "#softenerDays")
                .allSatisfy(link -> assertThat(shown.getElementById(link.substring(1)))
                        .as(link)
                        .isNotNull());
        assertThat(shown.select(".problems a").eachText()).contains("Ears", "Family name", "Days of softener so far");
        assertThat(shown.select("#ears").attr("aria-describedby")).isEqualTo("ears-problem");
    }

    @Test
    void makes_one_referral_of_one_form_however_often_it_is_sent() throws Exception {
        String address = mvc.perform(get("/referrals/new").with(receptionist))
                .andExpect(redirectedUrlPattern("/referrals/new?form=*"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        String key = address.substring(address.lastIndexOf('=') + 1);
        mvc.perform(get(address).with(receptionist))
                .andExpect(content().string(containsString("name=\"formKey\" value=\"" + key)));
        String saved = send(form("Wren", "Ann", "1980-01-01").param("formKey", key))
                .andExpect(status().is3xxRedirection())
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        long before = patients.countByClinicId(clinic);
        send(form("Wren", "Ann", "1980-01-01").param("formKey", key)).andExpect(redirectedUrl(saved));
        // Back after saving brings back what was ticked, but no texts.
        send(unnamed().param("nameUnknown", "yes").param("formKey", key)).andExpect(redirectedUrl(saved));
        mvc.perform(get(address).with(receptionist)).andExpect(redirectedUrl(saved));
        assertThat(patients.countByClinicId(clinic)).isEqualTo(before);
    }

    @Test
    void brings_a_form_back_that_was_left_before_it_was_saved() throws Exception {
        String key = UUID.randomUUID().toString();
        mvc.perform(post("/referrals/draft")
                        .param("formKey", key)
                        .param("familyName", "Halfway")
                        .header("HX-Request", "true")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isOk());
        mvc.perform(get("/referrals/new?form=" + key).with(receptionist))
                .andExpect(content().string(containsString("Halfway")));
    }

    @Test
    void puts_no_local_number_into_an_address() throws Exception {
        mvc.perform(post("/referrals/new")
                        .param("number", "K0016")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("value=\"K0016\"")));
    }

    @Test
    void refuses_to_save_from_an_older_page_and_erases_nothing() throws Exception {
        String page = send(form("Twoeditors", "Ann", "1980-01-01"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        String version = versionShown(page);
        mvc.perform(edit(page, version).param("contact", "01632 960123").param("flag.head_injury", "yes"))
                .andExpect(status().is3xxRedirection());
        String answer = mvc.perform(edit(page, version).param("mobility", "wheelchair"))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("Somebody else has changed this")))
                .andExpect(content().string(containsString("01632 960123")))
                .andExpect(content().string(containsString("wheelchair")))
                .andReturn()
                .getResponse()
                .getContentAsString();
        UUID id = UUID.fromString(page.substring(page.lastIndexOf('/') + 1));
        Referral referral = referrals.findByClinicIdAndId(clinic, id).orElseThrow();
        assertThat(referral.details().redFlags().raised()).containsExactly(RedFlag.HEAD_INJURY);
        assertThat(Jsoup.parse(answer).select("input[name=localNumber]:not([type=hidden])"))
                .isEmpty();
        assertThat(answer).contains("N00001");
        assertThat(Jsoup.parse(answer).select("input[name=version]").eachAttr("value"))
                .contains(versionShown(page));
        assertThat(Jsoup.parse(answer).select("input[name=flag.head_injury][value=yes][checked]"))
                .isNotEmpty();
        mvc.perform(edit(page, versionShown(page))
                        .param("mobility", "wheelchair")
                        .param("flag.head_injury", "yes"))
                .andExpect(status().is3xxRedirection());
    }

    @Test
    void takes_a_change_that_is_pressed_twice_once() throws Exception {
        String page = send(form("Pressedtwice", "Ann", "1980-01-01"))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        String version = versionShown(page);
        for (int i = 0; i < 2; i++) {
            mvc.perform(edit(page, version).param("mobility", "stick")).andExpect(status().is3xxRedirection());
        }
        mvc.perform(edit(page, "").param("mobility", "crutches")).andExpect(status().isConflict());
    }

    private String versionShown(String page) throws Exception {
        String form = mvc.perform(get(page + "/edit").with(receptionist))
                .andReturn()
                .getResponse()
                .getContentAsString();
        return Jsoup.parse(form).select("input[name=version]").val();
    }

    private MockHttpServletRequestBuilder edit(String page, String version) {
        return post(page)
                .param("version", version)
                .param("familyName", "Twoeditors")
                .param("givenName", "Ann")
                .param("dateOfBirth", "1980-01-01")
                .param("receivedOn", "2026-03-03")
                .param("priority", "routine")
                .param("origin", "referral")
                .param("ears", "left")
                .param("method", "microsuction")
                .with(receptionist)
                .with(csrf());
    }

    private Patient known() {
        return patients.known(clinic, "K0883").orElseThrow();
    }

    private ResultActions send(MockHttpServletRequestBuilder form) throws Exception {
        return mvc.perform(form.with(receptionist).with(csrf()));
    }

    private ResultActions program(String body) throws Exception {
        return mvc.perform(post("/api/v1/referrals")
                .contentType(MediaType.APPLICATION_JSON)
                .content(body)
                .with(SignedIn.program(clinic)));
    }

    private static MockHttpServletRequestBuilder unnamed() {
        return post("/referrals").param("ears", "left").param("method", "microsuction");
    }

    private static MockHttpServletRequestBuilder form(String family, String given, String born) {
        return unnamed().param("familyName", family).param("givenName", given).param("dateOfBirth", born);
    }
}
