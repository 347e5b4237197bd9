package org.earslot.day.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.testing.SignedIn.lead;
import static org.earslot.testing.SignedIn.practitioner;
import static org.earslot.testing.SignedIn.receptionist;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.DiaryFixture;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** A press that was kept for want of a connection counts once, at the time it was made, within reason. */
@PageTest
class OfflineCommandsTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Visits visits;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor chair;
    private UUID id;

    @BeforeEach
    void a_patient_at_ten() {
        clock.set(at("09:00"));
        clinic = clinics.open();
        chair = practitioner(clinic.id(), clinic.p1());
        id = fixture.appointment(clinic, TODAY.atTime(10, 0), 30);
        clock.set(at("10:20"));
    }

    @Test
    void counts_at_the_time_it_was_made_and_is_marked() throws Exception {
        press("call-in", UUID.randomUUID(), Duration.ofMinutes(15), chair)
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.done").value(true))
                .andExpect(jsonPath("$.said[0]").value("Called in."));
        assertThat(appointment().times().calledIn()).isEqualTo(at("10:05"));
        assertThat(visits.findById(appointment().visitId().orElseThrow())
                        .orElseThrow()
                        .timesEnteredLater())
                .isTrue();
    }

    @Test
    void made_just_now_is_of_now_and_not_marked() throws Exception {
        press("call-in", UUID.randomUUID(), Duration.ofMillis(800), chair).andExpect(status().isOk());
        assertThat(appointment().times().calledIn()).isEqualTo(at("10:20"));
        assertThat(visits.findById(appointment().visitId().orElseThrow())
                        .orElseThrow()
                        .timesEnteredLater())
                .isFalse();
    }

    @Test
    void sent_twice_counts_once_and_gets_the_same_answer() throws Exception {
        UUID key = UUID.randomUUID();
        press("call-in", key, Duration.ofMinutes(15), chair)
                .andExpect(jsonPath("$.done").value(true));
        int version = appointment().version();
        clock.advance(Duration.ofMinutes(3));
        press("call-in", key, Duration.ofMinutes(18), chair)
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.done").value(true))
                .andExpect(jsonPath("$.said[0]").value("Called in."));
        assertThat(appointment().version()).isEqualTo(version);
        assertThat(appointment().times().calledIn()).isEqualTo(at("10:05"));
    }

    @Test
    void a_second_press_with_a_key_of_its_own_is_refused() throws Exception {
        press("call-in", UUID.randomUUID(), Duration.ZERO, chair)
                .andExpect(jsonPath("$.done").value(true));
        press("call-in", UUID.randomUUID(), Duration.ZERO, chair)
                .andExpect(status().isConflict())
                .andExpect(jsonPath("$.done").value(false));
    }

    @Test
    void a_key_belongs_to_one_press() throws Exception {
        UUID key = UUID.randomUUID();
        press("call-in", key, Duration.ofMinutes(15), chair).andExpect(status().isOk());
        press("finish", key, Duration.ofMinutes(1), chair).andExpect(status().isConflict());
        assertThat(appointment().times().finished()).isNull();
    }

    @Test
    void a_whole_visit_kept_is_sent_in_order() throws Exception {
        press("check-in", UUID.randomUUID(), Duration.ofMinutes(24), chair).andExpect(status().isOk());
        press("call-in", UUID.randomUUID(), Duration.ofMinutes(20), chair).andExpect(status().isOk());
        press("finish", UUID.randomUUID(), Duration.ofMinutes(4), chair).andExpect(status().isOk());
        press("room-ready", UUID.randomUUID(), Duration.ofMinutes(1), chair).andExpect(status().isOk());
        assertThat(appointment().times().arrived()).isEqualTo(at("09:56"));
        assertThat(appointment().times().calledIn()).isEqualTo(at("10:00"));
        assertThat(appointment().times().finished()).isEqualTo(at("10:16"));
        assertThat(appointment().times().roomReady()).isEqualTo(at("10:19"));
    }

    @Test
    void is_refused_before_the_step_before_it() throws Exception {
        press("call-in", UUID.randomUUID(), Duration.ofMinutes(5), chair).andExpect(status().isOk());
        press("finish", UUID.randomUUID(), Duration.ofMinutes(9), chair)
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.done").value(false));
        press("room-ready", UUID.randomUUID(), Duration.ofMinutes(1), chair).andExpect(status().isConflict());
    }

    @Test
    void is_refused_when_older_than_is_in_reason_or_of_the_day_before() throws Exception {
        press("call-in", UUID.randomUUID(), Duration.ofHours(13), chair).andExpect(status().isBadRequest());
        press("call-in", UUID.randomUUID(), Duration.ofHours(11), chair).andExpect(status().isBadRequest());
        assertThat(appointment().status()).isEqualTo(AppointmentStatus.BOOKED);
    }

    @ParameterizedTest
    @CsvSource({
        "key,not-an-id",
        "key,''",
        "ageMillis,-1",
        "ageMillis,''",
        "ageMillis,soon",
        "ageMillis,999999999999",
        "ageMillis,1e3"
    })
    void absurd_input_is_refused(String field, String value) throws Exception {
        mvc.perform(post("/appointments/" + id + "/call-in")
                        .param(
                                "key",
                                field.equals("key") ? value : UUID.randomUUID().toString())
                        .param("ageMillis", field.equals("ageMillis") ? value : "0")
                        .with(csrf())
                        .with(chair))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.done").value(false));
        assertThat(appointment().status()).isEqualTo(AppointmentStatus.BOOKED);
    }

    @Test
    void is_for_those_by_the_chair_and_of_the_clinic() throws Exception {
        press("call-in", UUID.randomUUID(), Duration.ZERO, receptionist(clinic.id()))
                .andExpect(status().isForbidden());
        press("check-in", UUID.randomUUID(), Duration.ZERO, receptionist(clinic.id()))
                .andExpect(status().isOk());
        press("call-in", UUID.randomUUID(), Duration.ZERO, lead(clinics.open().id()))
                .andExpect(status().isNotFound());
        assertThat(appointment().status()).isEqualTo(AppointmentStatus.CHECKED_IN);
    }

    private ResultActions press(String what, UUID key, Duration age, RequestPostProcessor who) throws Exception {
        return mvc.perform(post("/appointments/" + id + "/" + what)
                .param("key", key.toString())
                .param("ageMillis", String.valueOf(age.toMillis()))
                .with(csrf())
                .with(who));
    }

    private Appointment appointment() {
        return appointments.findById(id).orElseThrow();
    }

    private static Instant at(String time) {
        return TODAY.atTime(LocalTime.parse(time))
                .atZone(ZoneId.of("Europe/London"))
                .toInstant();
    }
}
