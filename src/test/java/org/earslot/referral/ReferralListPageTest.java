package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDateTime;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.LikenessTest;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.testing.PageTest;
import org.earslot.testing.Scene;
import org.earslot.testing.Scenes;
import org.earslot.testing.SettableClock;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

/** What the lists of referrals say, and in which order. */
@PageTest
class ReferralListPageTest {

    private static final LocalDateTime WEDNESDAY = DiaryFixture.WEDNESDAY.atTime(9, 0);

    @Autowired
    private Scenes scenes;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Patients patients;

    @Autowired
    private Referrals referrals;

    @Autowired
    private SettableClock clock;

    private Scene scene;

    @BeforeEach
    void a_clinic() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        scene = scenes.open();
    }

    @Test
    void the_next_appointment_stands_first() throws Exception {
        booked("Wrenlast", WEDNESDAY.plusDays(2));
        booked("Wrenfirst", WEDNESDAY);
        booked("Wrensecond", WEDNESDAY.plusDays(1));
        assertThat(Jsoup.parse(scene.receptionist().page("/referrals?status=booked"))
                        .select("tbody td:first-child a")
                        .eachText())
                .containsExactly("Wrenfirst, Pat", "Wrensecond, Pat", "Wrenlast, Pat");
    }

    @Test
    void the_waiting_list_says_how_to_reach_people_and_who_can_come_soon() throws Exception {
        Patient patient = fixture.patient(scene.clinic(), "Wrenbottom", "Pat");
        patient.amend(LikenessTest.person("Wrenbottom", "Pat", null, "01632 960123"));
        patients.save(patient);
        Referral referral = referral(patient);
        referral.setStatus(ReferralStatus.WAITING);
        referrals.saveAndFlush(referral);
        assertThat(Jsoup.parse(scene.receptionist().page("/referrals?status=waiting"))
                        .select("tr")
                        .eachText())
                .element(0)
                .asString()
                .contains("Phone", "Waiting since", "Can come at short notice");
        assertThat(scene.receptionist().page("/referrals?status=waiting")).contains("01632 960123");
    }

    @Test
    void an_empty_list_says_what_comes_there() throws Exception {
        for (ReferralStatus status : ReferralStatus.values()) {
            assertThat(Jsoup.parse(scene.receptionist().page("/referrals?status=" + status.code()))
                            .select(".empty")
                            .text())
                    .as(status.code())
                    .isNotBlank()
                    .doesNotContain("??");
        }
    }

    private void booked(String family, LocalDateTime start) {
        fixture.appointment(
                scene.clinic(),
                referral(fixture.patient(scene.clinic(), family, "Pat")),
                fixture.place(scene.clinic(), start, 30));
    }

    private Referral referral(Patient patient) {
        return fixture.referral(
                scene.clinic(), patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
    }
}
