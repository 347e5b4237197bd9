package org.earslot.clinic.setup;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.flash;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotPolicy;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.ear.Method;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.ResultActions;

@PageTest
class SetUpPageTest {

    private static final LocalDate A_MONDAY = LocalDate.of(2026, 11, 30);

    @Autowired
    private Scenes scenes;

    @Autowired
    private Practitioners practitioners;

    @Autowired
    private Policies policies;

    @Autowired
    private SlotPolicy slots;

    @Autowired
    private Sessions sessions;

    private Scene scene;
    private ClinicId clinic;

    @BeforeEach
    void a_clinic() {
        scene = scenes.open();
        clinic = scene.clinicId();
    }

    @Test
    void says_what_was_saved_where_it_was_pressed() throws Exception {
        scene.lead()
                .sendsForm("/setup/rooms", "name", "R3", "active", "yes")
                .andExpect(redirectedUrl("/setup#rooms"))
                .andExpect(flash().attribute("saved", "rooms"));
        // The page opens at the section that was saved, and each has its own place to say so.
        String template = Files.readString(Path.of("src/main/resources/templates/clinic/setup.html"));
        assertThat(Jsoup.parse(scene.lead().page("/setup")).select("section").eachAttr("id"))
                .hasSize(8)
                .allSatisfy(section -> assertThat(template).contains("saved('" + section + "')"));
    }

    @Test
    void shows_the_whole_set_up_to_the_lead() throws Exception {
        scene.lead()
                .reads("/setup")
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Weekly sessions")))
                .andExpect(content().string(containsString("P1")));
    }

    @Test
    void takes_a_practitioner_in_once() throws Exception {
        for (int expected : new int[] {302, 400}) {
            scene.lead()
                    .sendsForm(
                            "/setup/practitioners",
                            "name",
                            "Locum",
                            "hand",
                            "left",
                            "methods",
                            "microsuction",
                            "methods",
                            "manual_removal")
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
        String p1 = scene.clinic().p1().toString();
        String r1 = scene.clinic().r1().toString();
        int before = sessions.on(clinic, A_MONDAY).size();
        String[][] spans = {{"16:00", "18:00"}, {"18:00", "17:00"}, {"22:00", "00:30"}, {"soon", "later"}, {"", ""}};
        for (String[] span : spans) {
            scene.lead()
                    .sendsForm(
                            "/setup/sessions",
                            "practitioner",
                            p1,
                            "room",
                            r1,
                            "day",
                            "MONDAY",
                            "from",
                            span[0],
                            "to",
                            span[1])
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("Please ")));
        }
        assertThat(sessions.on(clinic, A_MONDAY)).hasSize(before);
    }

    @Test
    void shows_a_refused_form_with_the_ticks_as_they_were_left() throws Exception {
        UUID p1 = scene.clinic().p1();
        String shown = scene.lead().page("/setup");
        String refused = scene.lead()
                .sendsForm(
                        "/setup/practitioners/" + p1,
                        "version",
                        "0",
                        "name",
                        "P1",
                        "hand",
                        "left",
                        "leastAge",
                        "200",
                        "methods",
                        "microsuction")
                .andExpect(status().isBadRequest())
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(ticked(row(shown, p1))).isEqualTo(4);
        assertThat(ticked(row(refused, p1))).isEqualTo(1);
        assertThat(row(refused, p1)).containsPattern("value=\"microsuction\"\\s+checked");
        assertThat(row(refused, p1)).containsPattern("value=\"left\"\\s+selected");
    }

    private static String row(String page, UUID practitioner) {
        String from = page.substring(page.indexOf("/setup/practitioners/" + practitioner));
        return from.substring(0, from.indexOf("</form>"));
    }

    private static int ticked(String form) {
        return form.split("checked=\"checked\"", -1).length - 1;
    }

    @Test
    void closes_a_day_and_opens_it_again() throws Exception {
        assertThat(sessions.on(clinic, A_MONDAY)).isNotEmpty();
        scene.lead()
                .sendsForm("/setup/exceptions", "kind", "closed", "date", A_MONDAY.toString(), "reason", "training day")
                .andExpect(status().is3xxRedirection());
        assertThat(sessions.on(clinic, A_MONDAY)).isEmpty();
        scene.lead().reads("/setup").andExpect(content().string(containsString("training day")));
    }

    @Test
    void settles_a_policy_whole_or_not_at_all() throws Exception {
        PolicyTerms before = policies.findById(clinic).orElseThrow().terms();
        policy("90", "60").andExpect(status().isBadRequest());
        policy("10", "999").andExpect(status().isBadRequest());
        assertThat(policies.findById(clinic).orElseThrow().terms()).isEqualTo(before);
        policy("15", "75").andExpect(status().is3xxRedirection());
        assertThat(policies.findById(clinic).orElseThrow().terms())
                .isEqualTo(new PolicyTerms(10, 0.3, 0.15, 15, 75, 20, 5, 4, 5, 6));
    }

    @Test
    void shows_what_a_kind_of_visit_is_given_beyond_its_estimate_and_takes_it_back() throws Exception {
        scene.lead().reads("/setup").andExpect(content().string(containsString("Every slot is as estimated.")));
        SlotTerms estimated = slots.of(clinic);
        SlotTerms other = estimated
                .with(new SlotKind(Method.MICROSUCTION, true), 5)
                .with(new SlotKind(Method.IRRIGATION, false), -5);
        assertThat(slots.apply(clinic, estimated, other, "lead")).isTrue();
        scene.lead()
                .reads("/setup")
                .andExpect(content().string(containsString("microsuction, both ears")))
                .andExpect(content().string(containsString(">+5<")))
                .andExpect(content().string(containsString("irrigation, one ear")));
        asEstimated("microsuction-both").andExpect(redirectedUrl("/setup#slots"));
        assertThat(slots.of(clinic)).isEqualTo(estimated.with(new SlotKind(Method.IRRIGATION, false), -5));
        asEstimated("microsuction-both").andExpect(redirectedUrl("/setup#slots"));
        assertThat(slots.of(clinic)).isEqualTo(estimated.with(new SlotKind(Method.IRRIGATION, false), -5));
        asEstimated("no-such-kind").andExpect(status().isNotFound());
    }

    private ResultActions asEstimated(String kind) throws Exception {
        return scene.lead().sendsForm("/setup/slots", "kind", kind);
    }

    @Test
    void is_the_leads_alone() throws Exception {
        scene.receptionist().reads("/setup").andExpect(status().isForbidden());
        scene.mvc().perform(get("/setup")).andExpect(status().is3xxRedirection());
    }

    private ResultActions policy(String least, String most) throws Exception {
        return scene.lead()
                .sendsForm(
                        "/setup/policy",
                        "version",
                        String.valueOf(policies.findById(clinic).orElseThrow().version()),
                        "gridMinutes",
                        "10",
                        "acceptedOverrunPercent",
                        "30",
                        "acceptedOvertimePercent",
                        "15",
                        "leastSlotMinutes",
                        least,
                        "mostSlotMinutes",
                        most,
                        "waitLimitMinutes",
                        "20",
                        "earlyAllowanceMinutes",
                        "5",
                        "irrigationTurnaroundMinutes",
                        "4",
                        "microsuctionTurnaroundMinutes",
                        "5",
                        "manualRemovalTurnaroundMinutes",
                        "6");
    }
}
