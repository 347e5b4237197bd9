package org.earslot.exchange.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.setup.SetUp;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** The steps of a new clinic are ticked as they are done, and shown until all are. */
@PageTest
class FirstStepsPageTest {

    private static final String BANNER = ".notice:contains(New here?)";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private SetUp setUp;

    @Test
    void ticks_each_step_and_leads_to_the_next_until_the_first_referral() throws Exception {
        TestClinic clinic = clinics.open();
        Document page = page("/setup/begin", clinic.id());
        assertThat(page.select(".steps li")).hasSize(5);
        assertThat(page.select(".step-done h2").eachText()).containsExactly("Practitioner and room", "Weekly session");
        assertThat(page.select(".steps .status")).hasSize(2);
        assertThat(page.select(".primary").attr("href")).isEqualTo("/setup#contact");
        assertThat(page.select(BANNER)).isEmpty();
        assertThat(page("/setup", clinic.id()).select(BANNER).text()).contains("3 steps are left");

        setUp.reachAt(clinic.id(), new ClinicContact("01632 960100", "2 Larkspindle Yard", null));
        assertThat(page("/setup/begin", clinic.id()).select(".primary").attr("href"))
                .isEqualTo("/import");

        fixture.referral(
                clinic,
                fixture.patient(clinic, "Quenderby", "Pat"),
                DiaryFixture.details(Method.MICROSUCTION, Ears.LEFT, null, null, null));
        Document done = page("/setup/begin", clinic.id());
        assertThat(done.select(".step-done")).hasSize(5);
        assertThat(done.select(".primary")).isEmpty();
        assertThat(page("/setup", clinic.id()).select(BANNER)).isEmpty();
    }

    @Test
    void is_for_leads_alone() throws Exception {
        TestClinic clinic = clinics.open();
        mvc.perform(get("/setup/begin").with(SignedIn.receptionist(clinic.id())))
                .andExpect(status().isForbidden());
        assertThat(Jsoup.parse(mvc.perform(get("/referrals").with(SignedIn.receptionist(clinic.id())))
                                .andReturn()
                                .getResponse()
                                .getContentAsString())
                        .select(BANNER))
                .isEmpty();
    }

    private Document page(String address, ClinicId clinic) throws Exception {
        return Jsoup.parse(mvc.perform(get(address).with(SignedIn.lead(clinic)))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString());
    }
}
