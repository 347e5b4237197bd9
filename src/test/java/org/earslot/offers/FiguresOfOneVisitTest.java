package org.earslot.offers;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.earslot.testing.SettableClock;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

/** The same visit has the same length on every page, and where a page says another, it says why. */
@PageTest
class FiguresOfOneVisitTest {

    private static final Pattern SLOT = Pattern.compile("data-slot=\"(\\d+)\"");
    private static final Pattern USUALLY = Pattern.compile("Usually \\d+; [^<]+");

    @Autowired
    private Scenes scenes;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private SettableClock clock;

    private Scene scene;
    private Patient patient;
    private Referral referral;

    @BeforeEach
    void a_referral() {
        clock.set(Instant.parse("2026-03-03T08:00:00Z"));
        scene = scenes.open();
        patient = fixture.patient(scene.clinic(), "Quillwortham", "Ottoline");
        referral = fixture.referral(
                scene.clinic(), patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
    }

    @Test
    void one_visit_has_one_length_from_the_form_to_the_sheet() throws Exception {
        String form = scene.receptionist()
                .sendsForm(
                        "/estimate/panel",
                        "localNumber",
                        patient.localNumber(),
                        "method",
                        "microsuction",
                        "ears",
                        "both",
                        "firstVisit",
                        "yes",
                        "hearingAid",
                        "yes",
                        "cautions",
                        "tinnitus",
                        "softenerDays",
                        "5",
                        "referrer",
                        "Practice on the hill",
                        "rightWax",
                        "hard",
                        "rightCanal",
                        "narrow",
                        "rightDepth",
                        "deep_canal",
                        "rightOcclusion",
                        "occluding")
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString();
        String slot = first(SLOT, form);
        String methods = scene.receptionist().page("/slots/methods?referral=" + referral.id());
        String offers = scene.receptionist().page("/slots?referral=" + referral.id());
        assertThat(part(methods, ">microsuction<", "</section>")).contains("data-slot=\"" + slot, first(USUALLY, form));
        assertThat(first(SLOT, offers)).isEqualTo(slot);
        assertThat(first(USUALLY, offers)).isEqualTo(first(USUALLY, form));

        String best = part(part(offers, "<tbody", "</tbody>"), "<tr", "</tr>");
        String minutes = first(Pattern.compile("name=\"slotMinutes\" value=\"(\\d+)\""), best);
        String start = first(Pattern.compile("name=\"start\" value=\"([^\"]+)\""), best);
        assertThat(best)
                .as("as long as the form says, or why not")
                .containsAnyOf(
                        ">" + slot + " min<",
                        ">tight: " + minutes + " of " + slot + "<",
                        ">tight: " + minutes + " of " + otherLength(offers) + "<",
                        ">" + otherLength(offers) + " min<");
        String appointment = Objects.requireNonNull(scene.receptionist()
                .sendsForm(
                        "/appointments",
                        "referral",
                        referral.id().toString(),
                        "practitioner",
                        first(Pattern.compile("name=\"practitioner\" value=\"([^\"]+)\""), best),
                        "room",
                        first(Pattern.compile("name=\"room\" value=\"([^\"]+)\""), best),
                        "start",
                        start,
                        "slotMinutes",
                        minutes)
                .andReturn()
                .getResponse()
                .getRedirectedUrl());
        String date = start.substring(0, 10);
        assertThat(scene.receptionist().page(appointment)).contains(minutes + " min");
        assertThat(scene.receptionist().page("/patients/" + patient.id())).contains(">" + minutes + " min<");
        assertThat(scene.receptionist().page("/day/" + date)).contains(">" + minutes + " min<");
        String sheet = scene.receptionist().page("/day/" + date + "/sheet");
        assertThat(first(SLOT, sheet)).isEqualTo(minutes);
        assertThat(sheet).doesNotContain("4 in 5");
        if (minutes.equals(slot)) {
            assertThat(first(USUALLY, sheet)).isEqualTo(first(USUALLY, form));
        } else {
            assertThat(first(USUALLY, sheet)).startsWith("Usually ");
        }
    }

    @Test
    void a_known_patient_is_not_asked_whether_it_is_the_first_visit() throws Exception {
        fixture.appointment(
                scene.clinic(), referral, fixture.place(scene.clinic(), DiaryFixture.WEDNESDAY.atTime(9, 0), 30));
        String page = scene.receptionist().page("/referrals/new?form=" + referral.id() + "&patient=" + patient.id());
        assertThat(page).contains("The method is set as last time");
        assertThat(page).containsPattern("name=\"method\" value=\"microsuction\"\\s+checked");
    }

    /** Of the one practitioner who takes another time, as said beside the offers; empty for nobody. */
    private static String otherLength(String offers) {
        Matcher other =
                Pattern.compile("With [^:<]+: (\\d+) min, at that practitioner").matcher(offers);
        return other.find() ? other.group(1) : "";
    }

    private static String first(Pattern what, String page) {
        Matcher found = what.matcher(page);
        assertThat(found.find()).as(what.pattern()).isTrue();
        return found.group(found.groupCount());
    }

    private static String part(String page, String from, String to) {
        int begins = page.indexOf(from);
        assertThat(begins).as(from).isNotNegative();
        return page.substring(begins, page.indexOf(to, begins));
    }
}
