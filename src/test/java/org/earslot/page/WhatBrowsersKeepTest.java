package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Sessions;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** What stays in a browser after a page was shown, or after somebody has signed out. */
@PageTest
class WhatBrowsersKeepTest {

    private static final String FAMILY = "Quillwortham";
    private static final Pattern TITLE = Pattern.compile("<title>(.*?)</title>");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Sessions sessions;

    @Test
    void titles_name_no_patient_though_the_pages_do() throws Exception {
        TestClinics.TestClinic clinic = clinics.open();
        Patient patient = fixture.patient(clinic, FAMILY, "Ottoline");
        Referral referral = fixture.referral(
                clinic,
                patient,
                DiaryFixture.asked(DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null)));
        UUID appointment =
                fixture.appointment(clinic, referral, fixture.place(clinic, DiaryFixture.WEDNESDAY.atTime(9, 0), 30));
        List<String> named = new ArrayList<>();
        for (String path : List.of(
                "/patients/" + patient.id(),
                "/referrals/" + referral.id(),
                "/referrals/" + referral.id() + "/edit",
                "/appointments/" + appointment,
                "/appointments/" + appointment + "/arrival",
                "/appointments/" + appointment + "/gap",
                "/slots?referral=" + referral.id(),
                "/slots?appointment=" + appointment,
                "/patients/" + patient.id() + "/merge?with=" + patient.id(),
                "/appointments/" + appointment + "/letters/confirmation",
                "/referrals/" + referral.id() + "/letters/invitation",
                "/referrals",
                "/referrals/missed",
                "/referrals/recalls",
                "/day/" + DiaryFixture.WEDNESDAY + "/now",
                "/day/" + DiaryFixture.WEDNESDAY + "/sheet",
                "/day/" + DiaryFixture.WEDNESDAY + "/fix?fix=move&appointment=" + appointment,
                "/day/" + DiaryFixture.WEDNESDAY)) {
            String page = mvc.perform(get(path).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                    .andReturn()
                    .getResponse()
                    .getContentAsString();
            Matcher title = TITLE.matcher(page);
            assertThat(title.find()).as(path).isTrue();
            assertThat(title.group(1)).as(path).doesNotContain(FAMILY, "Ottoline", "O.Q.");
            if (page.contains(FAMILY)) {
                named.add(path);
            }
        }
        assertThat(named).hasSizeGreaterThanOrEqualTo(3);
    }

    /** The only pages with a patient that are answers to a press: the card of a fit-in, as it is asked and as it is refused. */
    @Test
    void the_card_of_a_fit_in_has_no_part_of_a_name_in_its_title() throws Exception {
        TestClinics.TestClinic clinic = clinics.open();
        Patient patient = fixture.patient(clinic, FAMILY, "Ottoline");
        String today = DiaryFixture.WEDNESDAY.minusDays(1).toString();
        String session = sessions.on(clinic.id(), DiaryFixture.WEDNESDAY.minusDays(1)).stream()
                .filter(one -> one.practitionerId().equals(clinic.p1()))
                .findFirst()
                .orElseThrow()
                .key();
        for (String path : List.of("/fit-in/card", "/fit-in/seat", "/fit-in")) {
            String page = mvc.perform(post("/day/" + today + path)
                            .param("turn", "now")
                            .param("fitInSession", session)
                            .param("fitInPatient", patient.localNumber())
                            .param("fitInReason", "hearing aid blocked")
                            .param("fitInMethod", "microsuction")
                            .param("fitInEars", "left")
                            .with(csrf())
                            .with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                    .andReturn()
                    .getResponse()
                    .getContentAsString();
            assertThat(page).as(path).contains("O.Q.");
            Matcher title = TITLE.matcher(page);
            assertThat(title.find()).as(path).isTrue();
            assertThat(title.group(1)).as(path).doesNotContain(FAMILY, "Ottoline", "O.Q.");
        }
    }

    @Test
    void signing_out_clears_what_the_browser_has_stored() throws Exception {
        ClinicId clinic = clinics.open().id();
        mvc.perform(post("/sign-out").secure(true).with(csrf()).with(SignedIn.receptionist(clinic)))
                .andExpect(header().string("Clear-Site-Data", "\"cache\", \"storage\""));
    }
}
