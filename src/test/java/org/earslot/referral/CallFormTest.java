package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.Arrays;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Caution;
import org.earslot.ear.CautionGroup;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientChanges;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.data.domain.Limit;
import org.springframework.test.web.servlet.ResultActions;

/** The form of a referral as a call goes: who, ears and method, red flags, cautions. */
@PageTest
class CallFormTest {

    private static final String[] CALLER = {
        "familyName", "Wrenbottom", "contact", "01632 960123", "ears", "left", "method", "microsuction"
    };

    @Autowired
    private Scenes scenes;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Referrals referrals;

    @Autowired
    private PatientChanges changes;

    private Scene scene;

    @BeforeEach
    void a_clinic() {
        scene = scenes.open();
    }

    private ResultActions saves(String... more) throws Exception {
        String[] fields =
                Stream.concat(Arrays.stream(CALLER), Arrays.stream(more)).toArray(String[]::new);
        return scene.receptionist().sendsForm("/referrals", fields);
    }

    private Referral only() {
        return Arrays.stream(ReferralStatus.values())
                .flatMap(at -> referrals.standingAt(scene.clinicId(), at.code(), Limit.of(5)).stream())
                .findFirst()
                .orElseThrow();
    }

    @Test
    void a_caution_turned_on_in_a_folded_group_does_not_say_that_the_rest_was_asked() throws Exception {
        saves("cautions", "tinnitus", "noneFlagged", "yes").andExpect(status().is3xxRedirection());
        assertThat(only().details().cautions().asked()).isFalse();
        assertThat(scene.receptionist().page("/referrals/" + only().id())).contains("the rest not asked");
    }

    @Test
    void everything_else_asked_stands_beside_what_is_turned_on() throws Exception {
        saves("cautions", "tinnitus", "unsure.diabetes", "yes", "noneOfThese", "yes")
                .andExpect(status().is3xxRedirection());
        assertThat(only().details().cautions().asked()).isTrue();
        assertThat(only().details().cautions().notKnown()).containsExactly(Caution.DIABETES);
        String form = scene.receptionist().page("/referrals/" + only().id() + "/edit");
        assertThat(form).containsPattern("id=\"noneOfThese\"[^>]*checked");
    }

    @Test
    void every_caution_is_asked_under_one_heading() {
        assertThat(Arrays.stream(CautionGroup.values()).flatMap(group -> group.cautions().stream()))
                .containsExactlyInAnyOrder(Caution.values());
    }

    @Test
    void none_of_these_shows_every_red_flag_as_answered_no() throws Exception {
        String refused = saves("noneFlagged", "yes", "softenerDays", "many")
                .andExpect(status().isBadRequest())
                .andReturn()
                .getResponse()
                .getContentAsString();
        for (RedFlag flag : RedFlag.values()) {
            assertThat(refused).containsPattern("name=\"flag." + flag.code() + "\"\\s+value=\"no\"\\s+checked");
        }
    }

    @Test
    void what_is_wrong_says_what_to_do_and_leads_to_its_field() throws Exception {
        String refused = scene.receptionist()
                .sendsForm("/referrals", "familyName", "Wrenbottom", "contact", "01632 960123", "method", "irrigation")
                .andExpect(status().isBadRequest())
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(refused)
                .contains("href=\"#ears\"", "Please choose which ear: right, left or both.")
                .containsPattern(Pattern.compile(
                        "role=\"radiogroup\" id=\"ears\" aria-invalid=\"true\"" + " aria-describedby=\"ears-problem\""))
                .containsPattern("class=\"problems\" role=\"alert\" tabindex=\"-1\" autofocus");
    }

    @Test
    void save_and_find_a_slot_leads_there_unless_a_red_flag_stops_it() throws Exception {
        String offers = saves("noneFlagged", "yes", "then", "slots")
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        assertThat(offers).isEqualTo("/slots?referral=" + only().id());
        String stopped = scene.receptionist()
                .sendsForm(
                        "/referrals",
                        "familyName",
                        "Fernsby",
                        "contact",
                        "01632 960124",
                        "ears",
                        "left",
                        "method",
                        "irrigation",
                        "flag.button_battery",
                        "yes",
                        "then",
                        "slots")
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        assertThat(stopped).startsWith("/referrals/");
    }

    @Test
    void one_known_here_is_recognised_while_typing_and_taken_over_with_what_was_typed() throws Exception {
        Patient known = fixture.patient(scene.clinic(), "Quillwortham", "Ottoline");
        String key = UUID.randomUUID().toString();
        String recognised = scene.receptionist()
                .sends(post("/referrals/draft")
                        .param("formKey", key)
                        .param("familyName", "quillw")
                        .header("HX-Request", "true")
                        .with(csrf()))
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(recognised).contains("Quillwortham, Ottoline", "17 May 1951", "/referrals/draft/patient");
        scene.receptionist()
                .sendsForm(
                        "/referrals/draft/patient",
                        "formKey",
                        key,
                        "familyName",
                        "quillw",
                        "ears",
                        "both",
                        "softenerDays",
                        "4",
                        "samePerson",
                        known.localNumber())
                .andExpect(redirectedUrl("/referrals/new?form=" + key));
        String form = scene.receptionist().page("/referrals/new?form=" + key);
        assertThat(form)
                .contains("name=\"localNumber\" value=\"" + known.localNumber(), "value=\"Quillwortham\"")
                .containsPattern("name=\"ears\" value=\"both\"\\s+checked")
                .containsPattern("name=\"softenerDays\" value=\"4\"");
        assertThat(changes.findByClinicIdAndPatientIdOrderByChangedAt(scene.clinicId(), known.id()))
                .isEmpty();
    }

    @Test
    void closing_needs_a_reason_and_can_be_undone() throws Exception {
        saves("noneFlagged", "yes").andExpect(status().is3xxRedirection());
        String page = "/referrals/" + only().id();
        scene.receptionist().sendsForm(page + "/closed", "reason", " ").andExpect(status().isBadRequest());
        assertThat(only().status()).isEqualTo(ReferralStatus.READY_TO_BOOK);
        scene.receptionist()
                .sendsForm(page + "/closed", "reason", "seen elsewhere")
                .andExpect(redirectedUrl(page));
        assertThat(only().status()).isEqualTo(ReferralStatus.CLOSED);
        assertThat(scene.receptionist().page(page)).contains("seen elsewhere", "Reopen the referral");
        scene.receptionist().sendsForm(page + "/reopened").andExpect(redirectedUrl(page));
        assertThat(only().status()).isEqualTo(ReferralStatus.READY_TO_BOOK);
        scene.receptionist().sendsForm(page + "/reopened").andExpect(status().isConflict());
        assertThat(scene.lead().page("/audit")).contains("referral closed", "referral reopened");
    }

    @Test
    void one_reopened_with_red_flags_to_ask_waits_for_the_answers() throws Exception {
        saves().andExpect(status().is3xxRedirection());
        String page = "/referrals/" + only().id();
        scene.receptionist().sendsForm(page + "/closed", "reason", "no answer").andExpect(redirectedUrl(page));
        scene.receptionist().sendsForm(page + "/reopened").andExpect(redirectedUrl(page));
        assertThat(only().status()).isEqualTo(ReferralStatus.TO_TRIAGE);
        assertThat(only().closedBecause()).isEmpty();
    }
}
