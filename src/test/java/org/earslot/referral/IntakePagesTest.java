package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.booking.Appointments;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.page.Records;
import org.earslot.patient.LikenessTest;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.PatientSearch;
import org.earslot.patient.Patients;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.data.domain.Limit;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class IntakePagesTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Patients patients;

    @Autowired
    private PatientSearch search;

    @Autowired
    private Referrals referrals;

    @Autowired
    private ReferralDrafts drafts;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private Appointments appointments;

    @Autowired
    private RunningDay running;

    @Autowired
    private Visits visits;

    private TestClinic clinic;
    private RequestPostProcessor receptionist;

    @BeforeEach
    void opensAClinic() {
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
    }

    @Test
    void asks_before_it_makes_a_second_record() throws Exception {
        mvc.perform(form("Wrenbottom", "1951-05-17").with(receptionist)).andExpect(status().is3xxRedirection());
        mvc.perform(form("Wrenbotom", "1951-05-17").with(receptionist))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("Possible match")))
                .andExpect(content().string(containsString("N00001")))
                .andExpect(content().string(containsString("Wrenbotom")));
        assertThat(patients.countByClinicId(clinic.id())).isEqualTo(1);
        mvc.perform(form("Wrenbotom", "1951-05-17")
                        .param("samePerson", "N00001")
                        .with(receptionist))
                .andExpect(status().is3xxRedirection());
        assertThat(patients.countByClinicId(clinic.id())).isEqualTo(1);
        UUID only = patients.known(clinic.id(), "N00001").orElseThrow().id();
        assertThat(referrals.ofPatient(clinic.id(), only)).hasSize(2);
        mvc.perform(form("Wrenbotom", "1951-05-17").param("another", "yes").with(receptionist))
                .andExpect(status().is3xxRedirection());
        assertThat(patients.countByClinicId(clinic.id())).isEqualTo(2);
    }

    @Test
    void shows_again_that_no_red_flag_was_raised_where_the_form_comes_back() throws Exception {
        mvc.perform(form("Wrenbottom", "1951-05-17").with(receptionist)).andExpect(status().is3xxRedirection());
        String ticked = "name=\"noneFlagged\" value=\"yes\" checked=\"checked\"";
        mvc.perform(form("Wrenbottom", "1951-05-17").param("noneFlagged", "yes").with(receptionist))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString(ticked)));
        mvc.perform(form("Wrenbottom", "1951-05-17").with(receptionist))
                .andExpect(status().isConflict())
                .andExpect(content().string(not(containsString(ticked))));
    }

    @Test
    void looks_for_the_same_person_in_its_own_clinic_alone() throws Exception {
        TestClinic other = clinics.open();
        mvc.perform(form("Wrenbottom", "1951-05-17").with(SignedIn.receptionist(other.id())))
                .andExpect(status().is3xxRedirection());
        mvc.perform(form("Wrenbottom", "1951-05-17").with(receptionist)).andExpect(status().is3xxRedirection());
    }

    @Test
    void keeps_the_form_as_it_goes_and_makes_a_referral_of_it() throws Exception {
        String id = UUID.randomUUID().toString();
        mvc.perform(post("/referrals/draft")
                        .param("formKey", id)
                        .param("familyName", "Half & half=100%")
                        .param("cautions", "tinnitus", "dizziness")
                        .param("softenerDays", "five")
                        .header("HX-Request", "true")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isOk())
                .andExpect(header().string("Cache-Control", containsString("no-store")))
                .andExpect(content().string(containsString("Draft saved at")));
        mvc.perform(get("/referrals/new?form=" + id).with(receptionist))
                .andExpect(content().string(containsString("Half &amp; half=100%")));
        mvc.perform(post("/referrals/draft")
                        .param("formKey", id)
                        .param("familyName", "Half & half=100%")
                        .param("cautions", "tinnitus", "dizziness")
                        .param("softenerDays", "five")
                        .param("givenName", "Una")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(drafts.findByClinicIdOrderBySavedAtDesc(clinic.id())).hasSize(1);
        mvc.perform(get("/referrals/draft/" + id).with(receptionist))
                .andExpect(content().string(containsString("Half &amp; half=100%")))
                .andExpect(content().string(containsString("value=\"five\"")))
                .andExpect(content().string(containsString("Una")));
        mvc.perform(get("/referrals").with(receptionist))
                .andExpect(content().string(containsString("One referral begun and not finished")));
        assertThat(drafts.findByClinicIdAndId(clinic.id(), UUID.fromString(id))
                        .orElseThrow()
                        .typed()
                        .get("cautions"))
                .containsExactly("tinnitus", "dizziness");
        mvc.perform(form("Half", "1960-01-01").param("formKey", id).with(receptionist))
                .andExpect(status().is3xxRedirection());
        mvc.perform(post("/referrals/draft")
                        .param("formKey", id)
                        .param("familyName", "Late")
                        .header("HX-Request", "true")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isNoContent());
        assertThat(drafts.findByClinicIdOrderBySavedAtDesc(clinic.id())).isEmpty();
    }

    @Test
    void tells_while_typing_that_somebody_may_be_known() throws Exception {
        mvc.perform(get("/referrals/new?form=" + UUID.randomUUID()).with(receptionist))
                .andExpect(content().string(not(containsString("Possible match"))));
        mvc.perform(form("Wrenbottom", "1951-05-17").with(receptionist)).andExpect(status().is3xxRedirection());
        mvc.perform(post("/referrals/draft")
                        .param("familyName", "Wrenbottom")
                        .param("dateOfBirth", "1951-05-17")
                        .header("HX-Request", "true")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(content().string(containsString("This is the patient")));
    }

    @Test
    void keeps_no_draft_beyond_all_reason_nor_of_another_clinic() throws Exception {
        mvc.perform(post("/referrals/draft")
                        .param("reason", "x".repeat(20_001))
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().isBadRequest());
        mvc.perform(post("/referrals/draft")
                        .param("reason", "mine")
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        UUID id = drafts.findByClinicIdOrderBySavedAtDesc(clinic.id()).get(0).id();
        RequestPostProcessor stranger = SignedIn.receptionist(clinics.open().id());
        mvc.perform(get("/referrals/draft/" + id).with(stranger)).andExpect(status().isNotFound());
        mvc.perform(post("/referrals/draft/" + id + "/drop").with(stranger).with(csrf()))
                .andExpect(status().isNotFound());
        mvc.perform(post("/referrals/draft/" + id + "/drop").with(receptionist).with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(drafts.findByClinicIdOrderBySavedAtDesc(clinic.id())).isEmpty();
    }

    @Test
    void makes_two_records_one_and_parts_them_again_with_all_that_is_theirs() throws Exception {
        Patient kept = diary.patient(clinic, "Wrenbottom", "Ann");
        kept.amend(LikenessTest.person("Wrenbottom", "Ann", null, null));
        patients.save(kept);
        Patient gone = diary.patient(clinic, "Wrenbotom", "Ann");
        Map<String, @Nullable Object> person = new HashMap<>(Records.values(gone.details()));
        person.put("postalAddress", "7 Thistle Row\nUnderwhistle");
        gone.amend(Records.of(PatientDetails.class, person));
        patients.save(gone);
        Referral referral =
                diary.referral(clinic, gone, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
        UUID appointment = diary.appointment(
                clinic,
                referral,
                diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        running.record(clinic.id(), appointment, org.earslot.day.ClockEvent.ARRIVED);

        mvc.perform(get("/patients/" + kept.id()).with(receptionist))
                .andExpect(content().string(containsString("Look at both side by side")));
        mvc.perform(get("/patients/" + kept.id() + "/merge?with=" + gone.id()).with(receptionist))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Wrenbotom")))
                .andExpect(content().string(containsString("7 Thistle Row")));
        press("/patients/" + kept.id() + "/merge", gone.id(), 302);

        assertThat(referrals
                        .findByClinicIdAndId(clinic.id(), referral.id())
                        .orElseThrow()
                        .patientId())
                .isEqualTo(kept.id());
        assertThat(appointments
                        .findByClinicIdAndId(clinic.id(), appointment)
                        .orElseThrow()
                        .patientId())
                .contains(kept.id());
        assertThat(visits.idsOfPatient(clinic.id(), kept.localNumber())).hasSize(1);
        PatientDetails merged = patients.findByClinicIdAndId(clinic.id(), kept.id())
                .orElseThrow()
                .details();
        assertThat(merged.dateOfBirth()).isNotNull();
        assertThat(merged.postalAddress()).isEqualTo("7 Thistle Row\nUnderwhistle");
        assertThat(patients.known(clinic.id(), gone.localNumber()).orElseThrow().id())
                .isEqualTo(kept.id());
        assertThat(search.find(clinic.id(), gone.localNumber(), LocalDate.of(2026, 3, 3))
                        .patients())
                .extracting(Patient::id)
                .containsExactly(kept.id());
        press("/patients/" + kept.id() + "/merge", gone.id(), 409);
        press("/patients/" + kept.id() + "/merge", kept.id(), 409);

        String page = mvc.perform(get("/patients/" + kept.id()).with(receptionist))
                .andReturn()
                .getResponse()
                .getContentAsString();
        String undo = page.replaceAll("(?s).*action=\"([^\"]+/undo)\".*", "$1");
        press(undo, gone.id(), 302);
        assertThat(referrals
                        .findByClinicIdAndId(clinic.id(), referral.id())
                        .orElseThrow()
                        .patientId())
                .isEqualTo(gone.id());
        assertThat(appointments
                        .findByClinicIdAndId(clinic.id(), appointment)
                        .orElseThrow()
                        .patientId())
                .contains(gone.id());
        assertThat(visits.idsOfPatient(clinic.id(), gone.localNumber())).hasSize(1);
        assertThat(patients.findByClinicIdAndId(clinic.id(), kept.id())
                        .orElseThrow()
                        .details())
                .isEqualTo(kept.details());
        press(undo, gone.id(), 409);
    }

    @Test
    void undoes_the_later_of_two_merges_first() throws Exception {
        List<Patient> three = List.of(
                diary.patient(clinic, "Wren", "A"),
                diary.patient(clinic, "Wren", "B"),
                diary.patient(clinic, "Wren", "C"));
        press("/patients/" + three.get(0).id() + "/merge", three.get(1).id(), 302);
        press("/patients/" + three.get(2).id() + "/merge", three.get(0).id(), 302);
        String page = mvc.perform(get("/patients/" + three.get(1).id()).with(receptionist))
                .andReturn()
                .getResponse()
                .getContentAsString();
        press(
                page.replaceAll("(?s).*action=\"([^\"]+/undo)\".*", "$1"),
                three.get(0).id(),
                409);
    }

    @Test
    void merges_nothing_of_another_clinic() throws Exception {
        Patient mine = diary.patient(clinic, "Wren", "A");
        Patient theirs = diary.patient(clinics.open(), "Wren", "A");
        press("/patients/" + mine.id() + "/merge", theirs.id(), 404);
        press("/patients/" + mine.id() + "/merge/" + UUID.randomUUID() + "/undo", mine.id(), 409);
    }

    @Test
    void prints_only_the_open_questions_for_the_referrer() throws Exception {
        Referral asked = diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        mvc.perform(get("/slots/questions/" + asked.id()).with(receptionist))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Practice on the hill")))
                .andExpect(content().string(not(containsString("cleft palate"))));
        mvc.perform(form("Quarterly", "1970-02-03")
                        .param("unsure.cleft_palate", "yes")
                        .param("cautions", "tinnitus")
                        .param("noneFlagged", "yes")
                        .with(receptionist))
                .andExpect(status().is3xxRedirection());
        Referral unsure = referrals.standingAt(clinic.id(), "ready_to_book", Limit.of(9)).stream()
                .filter(one -> !one.id().equals(asked.id()))
                .findFirst()
                .orElseThrow();
        mvc.perform(get("/slots/questions/" + unsure.id()).with(receptionist))
                .andExpect(content().string(containsString("cleft palate")));
    }

    @Test
    void asks_who_consents_and_comes_along_with_a_child() throws Exception {
        String child = mvc.perform(form("Small", "2017-06-01").with(receptionist))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        mvc.perform(get(child).with(receptionist))
                .andExpect(content().string(containsString("A child: find out before the visit")));
        String settled = mvc.perform(form("Smaller", "2017-09-09")
                        .param("consentBy", "mother")
                        .param("comesWith", "mother")
                        .with(receptionist))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        mvc.perform(get(settled).with(receptionist))
                .andExpect(content().string(not(containsString("A child: find out before the visit"))));
    }

    @Test
    void takes_an_enquiry_and_a_self_referral_the_same_way() throws Exception {
        String enquiry = mvc.perform(
                        form("Asker", "1971-01-01").param("origin", "enquiry").with(receptionist))
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        mvc.perform(get(enquiry).with(receptionist)).andExpect(content().string(containsString(">enquiry<")));
        mvc.perform(form("Asker", "1971-01-01").param("origin", "rumour").with(receptionist))
                .andExpect(status().isBadRequest());
    }

    private void press(String address, UUID with, int expected) throws Exception {
        mvc.perform(post(address)
                        .param("with", with.toString())
                        .with(receptionist)
                        .with(csrf()))
                .andExpect(status().is(expected));
    }

    private static MockHttpServletRequestBuilder form(String family, String born) {
        return post("/referrals")
                .param("familyName", family)
                .param("givenName", "Ann")
                .param("dateOfBirth", born)
                .param("ears", "left")
                .param("method", "microsuction")
                .with(csrf());
    }
}
