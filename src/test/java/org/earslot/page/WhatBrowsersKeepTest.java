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
import org.earslot.diary.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Patient;
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
                "/day/" + DiaryFixture.WEDNESDAY)) {
            String page = mvc.perform(get(path).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                    .andReturn()
                    .getResponse()
                    .getContentAsString();
            Matcher title = TITLE.matcher(page);
            assertThat(title.find()).as(path).isTrue();
            assertThat(title.group(1)).as(path).doesNotContain(FAMILY).doesNotContain("Ottoline");
            if (page.contains(FAMILY)) {
                named.add(path);
            }
        }
        assertThat(named).hasSizeGreaterThanOrEqualTo(3);
    }

    @Test
    void signing_out_clears_what_the_browser_has_stored() throws Exception {
        UUID clinic = clinics.open().id();
        mvc.perform(post("/sign-out").secure(true).with(csrf()).with(SignedIn.receptionist(clinic)))
                .andExpect(header().string("Clear-Site-Data", "\"cache\", \"storage\""));
    }
}
