package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.net.URI;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageWalk;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** One filled button on a screen, and no meaning by colour alone. */
@PageTest
class OneLookTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void a_running_day() {
        clock.set(Instant.parse("2026-03-03T09:10:00Z"));
        clinic = clinics.open();
        Referral referral = fixture.referral(
                clinic,
                fixture.patient(clinic, "Quenderby", "Pat"),
                DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
        fixture.appointment(clinic, referral, fixture.place(clinic, TODAY.atTime(9, 30), 30));
        fixture.referral(
                clinic,
                fixture.patient(clinic, "Thistledownham", "Kim"),
                DiaryFixture.details(Method.MICROSUCTION, Ears.LEFT, null, null, null));
    }

    @Test
    void a_screen_has_one_filled_button_at_most() throws Exception {
        Map<String, Integer> filled = new TreeMap<>();
        for (RequestPostProcessor who :
                List.of(SignedIn.lead(clinic.id()), SignedIn.practitioner(clinic.id(), clinic.p1()))) {
            new PageWalk((address, place) -> counted(address, who, filled), 2).from("/day/" + TODAY);
        }
        assertThat(filled)
                .hasSizeGreaterThan(30)
                .allSatisfy(
                        (address, buttons) -> assertThat(buttons).as(address).isLessThanOrEqualTo(1));
        assertThat(filled.values()).contains(1);
    }

    private MockHttpServletResponse counted(String address, RequestPostProcessor who, Map<String, Integer> filled)
            throws Exception {
        MockHttpServletResponse answer =
                mvc.perform(get(URI.create(address)).with(who)).andReturn().getResponse();
        filled.merge(
                address,
                Jsoup.parse(answer.getContentAsString()).select(".primary").size(),
                Math::max);
        return answer;
    }

    @Test
    void what_is_drawn_is_also_said() throws Exception {
        Document page = Jsoup.parse(mvc.perform(get("/setup/style").with(SignedIn.lead(clinic.id())))
                .andReturn()
                .getResponse()
                .getContentAsString());
        assertThat(page.select(".status")).hasSize(8).allSatisfy(status -> {
            assertThat(status.text()).isNotBlank();
            assertThat(status.select("svg[aria-hidden=true] use")).hasSize(1);
        });
        assertThat(page.select(".status use").eachAttr("href")).doesNotHaveDuplicates();
        assertThat(page.select(".ears-of .unseen").eachText()).containsExactly("right", "left", "both");
        assertThat(page.select(".ear-badge")).allMatch(badge -> badge.hasAttr("aria-hidden"));
    }

    @Test
    void a_visit_of_the_day_shows_its_ears_and_its_status() throws Exception {
        Element row = Jsoup.parse(mvc.perform(get("/day/" + TODAY).with(SignedIn.receptionist(clinic.id())))
                        .andReturn()
                        .getResponse()
                        .getContentAsString())
                .selectFirst("tr[data-visit]");
        assertThat(row.select(".for").text()).isEqualTo("R L both microsuction");
        assertThat(row.select(".status.is-booked").text()).isEqualTo("booked");
    }
}
