package org.earslot.clinic.setup;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.LocalDate;
import java.util.UUID;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotPolicy;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.ear.Method;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

@PageTest
class SetUpPageTest {

    private static final LocalDate A_MONDAY = LocalDate.of(2026, 11, 30);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Practitioners practitioners;

    @Autowired
    private Policies policies;

    @Autowired
    private SlotPolicy slots;

    @Autowired
    private Rooms rooms;

    @Autowired
    private Sessions sessions;

    private UUID clinic;

    @BeforeEach
    void opensAClinic() {
        clinic = clinics.open().id();
    }

    @Test
    void shows_the_whole_set_up_to_the_lead() throws Exception {
        mvc.perform(get("/setup").with(SignedIn.lead(clinic)))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Weekly sessions")))
                .andExpect(content().string(containsString("P1")));
    }

    @Test
    void takes_a_practitioner_in_once() throws Exception {
        for (int expected : new int[] {302, 400}) {
            mvc.perform(post("/setup/practitioners")
                            .with(SignedIn.lead(clinic))
                            .with(csrf())
                            .param("name", "Locum")
                            .param("hand", "left")
                            .param("methods", "microsuction", "manual_removal"))
                    .andExpect(status().is(expected));
        }
        assertThat(practitioners
                        .findByClinicIdAndName(clinic, "Locum")
                        .orElseThrow()
                        .methods())
                .containsExactlyInAnyOrder(Method.MICROSUCTION, Method.MANUAL_REMOVAL);
    }

    @Test
    void refuses_a_session_where_practitioner_or_room_is_taken_or_times_are_absurd() throws Exception {
        UUID p1 =
                practitioners.findByClinicIdAndName(clinic, "P1").orElseThrow().id();
        UUID r1 = rooms.findByClinicIdAndName(clinic, "R1").orElseThrow().id();
        int before = sessions.on(clinic, A_MONDAY).size();
        String[][] spans = {{"16:00", "18:00"}, {"18:00", "17:00"}, {"22:00", "00:30"}, {"soon", "later"}, {"", ""}};
        for (String[] span : spans) {
            mvc.perform(post("/setup/sessions")
                            .with(SignedIn.lead(clinic))
                            .with(csrf())
                            .param("practitioner", p1.toString())
                            .param("room", r1.toString())
                            .param("day", "MONDAY")
                            .param("from", span[0])
                            .param("to", span[1]))
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("What to do")));
        }
        assertThat(sessions.on(clinic, A_MONDAY)).hasSize(before);
    }

    @Test
    void closes_a_day_and_opens_it_again() throws Exception {
        assertThat(sessions.on(clinic, A_MONDAY)).isNotEmpty();
        mvc.perform(post("/setup/exceptions")
                        .with(SignedIn.lead(clinic))
                        .with(csrf())
                        .param("kind", "closed")
                        .param("date", A_MONDAY.toString())
                        .param("reason", "training day"))
                .andExpect(status().is3xxRedirection());
        assertThat(sessions.on(clinic, A_MONDAY)).isEmpty();
        mvc.perform(get("/setup").with(SignedIn.lead(clinic)))
                .andExpect(content().string(containsString("training day")));
    }

    @Test
    void settles_a_policy_whole_or_not_at_all() throws Exception {
        PolicyTerms before = policies.findById(clinic).orElseThrow().terms();
        mvc.perform(policy("90", "60")).andExpect(status().isBadRequest());
        mvc.perform(policy("10", "999")).andExpect(status().isBadRequest());
        assertThat(policies.findById(clinic).orElseThrow().terms()).isEqualTo(before);
        mvc.perform(policy("15", "75")).andExpect(status().is3xxRedirection());
        assertThat(policies.findById(clinic).orElseThrow().terms())
                .isEqualTo(new PolicyTerms(10, 0.3, 0.15, 15, 75, 20, 5, 4, 5, 6));
    }

    @Test
    void shows_what_a_kind_of_visit_is_given_beyond_its_estimate_and_takes_it_back() throws Exception {
        mvc.perform(get("/setup").with(SignedIn.lead(clinic)))
                .andExpect(content().string(containsString("Every slot is as estimated.")));
        SlotTerms estimated = slots.of(clinic);
        SlotTerms other = estimated
                .with(new SlotKind(Method.MICROSUCTION, true), 5)
                .with(new SlotKind(Method.IRRIGATION, false), -5);
        assertThat(slots.apply(clinic, estimated, other, "lead")).isTrue();
        mvc.perform(get("/setup").with(SignedIn.lead(clinic)))
                .andExpect(content().string(containsString("microsuction, both ears")))
                .andExpect(content().string(containsString(">+5<")))
                .andExpect(content().string(containsString("irrigation, one ear")));
        mvc.perform(asEstimated("microsuction-both")).andExpect(redirectedUrl("/setup#slots"));
        assertThat(slots.of(clinic)).isEqualTo(estimated.with(new SlotKind(Method.IRRIGATION, false), -5));
        mvc.perform(asEstimated("microsuction-both")).andExpect(redirectedUrl("/setup#slots"));
        assertThat(slots.of(clinic)).isEqualTo(estimated.with(new SlotKind(Method.IRRIGATION, false), -5));
        mvc.perform(asEstimated("no-such-kind")).andExpect(status().isNotFound());
    }

    private org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder asEstimated(String kind) {
        return post("/setup/slots").with(SignedIn.lead(clinic)).with(csrf()).param("kind", kind);
    }

    @Test
    void is_the_leads_alone() throws Exception {
        mvc.perform(get("/setup").with(SignedIn.receptionist(clinic))).andExpect(status().isForbidden());
        mvc.perform(get("/setup")).andExpect(status().is3xxRedirection());
    }

    private org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder policy(
            String least, String most) {
        return post("/setup/policy")
                .with(SignedIn.lead(clinic))
                .with(csrf())
                .param(
                        "version",
                        String.valueOf(policies.findById(clinic).orElseThrow().version()))
                .param("gridMinutes", "10")
                .param("acceptedOverrunPercent", "30")
                .param("acceptedOvertimePercent", "15")
                .param("leastSlotMinutes", least)
                .param("mostSlotMinutes", most)
                .param("waitLimitMinutes", "20")
                .param("earlyAllowanceMinutes", "5")
                .param("irrigationTurnaroundMinutes", "4")
                .param("microsuctionTurnaroundMinutes", "5")
                .param("manualRemovalTurnaroundMinutes", "6");
    }
}
