package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientChanges;
import org.earslot.patient.Patients;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.earslot.testing.SettableClock;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.ResultActions;

/** A patient's page answers a call: when is it, move it, cancel it, and what is on record. */
@PageTest
class PatientPageTest {

    private static final Pattern VERSION =
            Pattern.compile("/details\"(?:(?!</form>).)*?name=\"version\" value=\"([^\"]+)\"", Pattern.DOTALL);

    @Autowired
    private Scenes scenes;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private SettableClock clock;

    @Autowired
    private Patients patients;

    @Autowired
    private PatientChanges changes;

    private Scene scene;
    private Patient patient;
    private UUID appointment;
    private Referral referral;

    @BeforeEach
    void a_patient_with_an_appointment() {
        clock.set(Instant.parse("2026-03-03T08:00:00Z"));
        scene = scenes.open();
        patient = fixture.patient(scene.clinic(), "Quillwortham", "Ottoline");
        referral = fixture.referral(
                scene.clinic(),
                patient,
                DiaryFixture.asked(DiaryFixture.details(Method.MICROSUCTION, Ears.LEFT, null, null, null)));
        appointment = fixture.appointment(
                scene.clinic(), referral, fixture.place(scene.clinic(), DiaryFixture.WEDNESDAY.atTime(9, 50), 30));
    }

    private String page() throws Exception {
        return scene.receptionist().page("/patients/" + patient.id());
    }

    @Test
    void says_when_the_appointment_is_and_leads_to_moving_cancelling_and_its_letter() throws Exception {
        String upcoming = part(page(), "Upcoming appointments");
        assertThat(upcoming)
                .contains("Wed 4 Mar 2026, 09:50", "with P1", "/appointments/" + appointment)
                .contains("/slots?appointment=" + appointment)
                .contains("/appointments/" + appointment + "#cancel")
                .contains("/appointments/" + appointment + "/letters/confirmation");
        assertThat(part(page(), "Referrals")).contains("appointment Wed 4 Mar 2026, 09:50");
        assertThat(scene.receptionist().page("/referrals/" + referral.id()))
                .contains("Wed 4 Mar 2026, 09:50", "/slots?appointment=" + appointment);
    }

    @Test
    void what_is_over_is_listed_as_past_and_can_no_longer_be_moved() throws Exception {
        clock.set(Instant.parse("2026-03-05T08:00:00Z"));
        assertThat(part(page(), "Upcoming appointments")).contains("No appointment is booked.");
        assertThat(part(page(), "Past appointments and visits"))
                .contains("Wed 4 Mar 2026, 09:50")
                .doesNotContain("/slots?appointment=");
    }

    @Test
    void the_phone_number_can_be_corrected_and_what_it_was_is_kept() throws Exception {
        String version = version(page());
        correct(version, "07700 900456").andExpect(redirectedUrl("/patients/" + patient.id()));
        assertThat(patients.findById(patient.id()).orElseThrow().details().contact())
                .isEqualTo("07700 900456");
        assertThat(changes.findByClinicIdAndPatientIdOrderByChangedAt(scene.clinicId(), patient.id()))
                .hasSize(1);
        correct(version, "01632 960999").andExpect(status().isConflict());
        assertThat(page()).contains("07700 900456").doesNotContain("01632 960999");
    }

    @Test
    void a_family_name_cannot_be_taken_away_and_what_was_typed_stays() throws Exception {
        String refused = scene.receptionist()
                .sendsForm(
                        "/patients/" + patient.id() + "/details",
                        "version",
                        version(page()),
                        "familyName",
                        "",
                        "givenName",
                        "Ottolina",
                        "contact",
                        "07700 900456")
                .andExpect(status().isBadRequest())
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(refused).contains("value=\"Ottolina\"", "familyName-problem");
        assertThat(patients.findById(patient.id()).orElseThrow().details().familyName())
                .isEqualTo("Quillwortham");
    }

    private ResultActions correct(String version, String phone) throws Exception {
        return scene.receptionist()
                .sendsForm(
                        "/patients/" + patient.id() + "/details",
                        "version",
                        version,
                        "familyName",
                        "Quillwortham",
                        "givenName",
                        "Ottoline",
                        "dateOfBirth",
                        "1960-01-02",
                        "contact",
                        phone);
    }

    private static String version(String page) {
        Matcher found = VERSION.matcher(page);
        assertThat(found.find()).isTrue();
        return found.group(1);
    }

    /** The section under that heading. */
    private static String part(String page, String heading) {
        int from = page.indexOf("<h2>" + heading + "<");
        assertThat(from).as(heading).isPositive();
        return page.substring(from, page.indexOf("</section>", from));
    }
}
