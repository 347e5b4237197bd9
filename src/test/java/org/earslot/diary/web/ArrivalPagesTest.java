package org.earslot.diary.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.diary.DiaryFixture.WEDNESDAY;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.diary.Appointment;
import org.earslot.diary.AppointmentStatus;
import org.earslot.diary.Appointments;
import org.earslot.diary.DiaryFixture;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagCases;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class ArrivalPagesTest {

    private static final Instant MORNING =
            WEDNESDAY.atTime(9, 0).atZone(ZoneId.of("Europe/London")).toInstant();

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Referrals referrals;

    @Autowired
    private RedFlagCases cases;

    @Autowired
    private RedFlagTriage triage;

    @Autowired
    private Intake intake;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor receptionist;
    private RequestPostProcessor practitioner;
    private Instant before;

    @BeforeEach
    void on_the_day() {
        before = clock.instant();
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
        practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
    }

    @AfterEach
    void leaves_the_clock_as_it_was() {
        clock.set(before);
    }

    @Test
    void nothing_new_is_one_press_and_says_who_asked() throws Exception {
        UUID id = booked();
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist))
                .andExpect(content().string(containsString("Check in: nothing new")));
        press(id, "check-in?nothingNew=yes", receptionist, 302);
        assertThat(appointment(id).status()).isEqualTo(AppointmentStatus.CHECKED_IN);
        assertThat(appointment(id).redFlagsAskedBy()).contains("receptionist");
        mvc.perform(get("/appointments/" + id).with(receptionist))
                .andExpect(content().string(containsString("asked by receptionist, 09:00")));
    }

    @Test
    void a_program_that_checks_in_has_asked_nothing_and_the_day_says_so() throws Exception {
        UUID id = booked();
        mvc.perform(post("/api/v1/appointments/" + id + "/clock")
                        .with(SignedIn.program(clinic.id()))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("{\"event\":\"arrived\"}"))
                .andExpect(status().isOk());
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist))
                .andExpect(content().string(containsString("Red flags not asked at arrival")));
        answer(id, "noneFlagged", "yes").andExpect(redirectedUrl("/day/" + WEDNESDAY));
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist))
                .andExpect(content().string(not(containsString("Red flags not asked at arrival"))));
    }

    @Test
    void who_was_never_asked_is_asked_the_whole_list_before_check_in() throws Exception {
        UUID id = booked();
        Referral referral = referral(id);
        referral.amend(referral.details().withRedFlags(Map.of()));
        referrals.saveAndFlush(referral);
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist))
                .andExpect(content().string(containsString("Red flags not asked")))
                .andExpect(content().string(containsString("Ask red flags, then check in")))
                .andExpect(content().string(not(containsString("Check in: nothing new"))));
        mvc.perform(get("/appointments/" + id + "/arrival").with(receptionist))
                .andExpect(content().string(containsString("Red flags were never asked in full")));
        answer(id, "flag.head_injury", "no").andExpect(status().isBadRequest());
        assertThat(appointment(id).status()).isEqualTo(AppointmentStatus.BOOKED);
        answer(id, "noneFlagged", "yes").andExpect(status().is3xxRedirection());
        assertThat(appointment(id).status()).isEqualTo(AppointmentStatus.CHECKED_IN);
        assertThat(referral(id).details().redFlagsAllNo()).isTrue();
    }

    @Test
    void a_yes_at_arrival_opens_a_case_again_and_tells_whom_to_tell() throws Exception {
        UUID id = booked();
        triage.sendRedFlagsTo(clinic.id(), clinic.p1());
        Referral referral = referral(id);
        intake.answerRedFlags(referral, Map.of(RedFlag.NEW_VERTIGO, Answer.YES), null, new Taker("r", null));
        triage.clear(referral, "years ago", "p1");
        answer(id, "flag.new_vertigo", "yes")
                .andExpect(redirectedUrl("/referrals/" + referral.id()))
                .andExpect(
                        result -> assertThat(String.valueOf(result.getFlashMap().get("notice")))
                                .startsWith("Red flag: tell P1 now."));
        assertThat(appointment(id).status()).isEqualTo(AppointmentStatus.CHECKED_IN);
        assertThat(open(referral))
                .singleElement()
                .satisfies(one -> assertThat(one.flags()).containsExactly(RedFlag.NEW_VERTIGO));
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist))
                .andExpect(content().string(containsString("Red flag: P1 decides first")));
    }

    @Test
    void checks_in_nobody_whose_red_flag_waits_until_a_clinician_has_decided() throws Exception {
        UUID id = booked();
        Referral referral = referral(id);
        intake.answerRedFlags(referral, Map.of(RedFlag.HEAD_INJURY, Answer.YES), null, new Taker("r", null));
        press(id, "check-in", receptionist, 409);
        press(id, "check-in?nothingNew=yes", receptionist, 409);
        press(id, "check-in?key=" + UUID.randomUUID() + "&ageMillis=0&nothingNew=yes", receptionist, 409);
        mvc.perform(post("/api/v1/appointments/" + id + "/clock")
                        .with(SignedIn.program(clinic.id()))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("{\"event\":\"called_in\"}"))
                .andExpect(status().isConflict())
                .andExpect(jsonPath("$.code").value("red-flag-open"));
        press(id, "call-in", SignedIn.lead(clinic.id()), 409);
        assertThat(appointment(id).status()).isEqualTo(AppointmentStatus.BOOKED);
        mvc.perform(post("/referrals/" + referral.id() + "/red-flag/see-here")
                        .param("decided", "I look at once")
                        .with(practitioner)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        press(id, "check-in?nothingNew=yes", receptionist, 302);
        assertThat(open(referral)).isNotEmpty();
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist))
                .andExpect(content().string(containsString("Red flag open: a clinician sees the patient here")));
    }

    @Test
    void a_practitioner_who_calls_in_has_decided_and_that_is_recorded() throws Exception {
        UUID id = booked();
        Referral referral = referral(id);
        intake.answerRedFlags(referral, Map.of(RedFlag.HEAD_INJURY, Answer.YES), null, new Taker("r", null));
        press(id, "call-in", practitioner, 302);
        assertThat(appointment(id).status()).isEqualTo(AppointmentStatus.FULFILLED);
        assertThat(open(referral))
                .singleElement()
                .satisfies(one -> assertThat(one.undecided()).isFalse());
        assertThat(triage.steps(clinic.id(), open(referral)))
                .anySatisfy(step -> assertThat(step.what()).isEqualTo("see_here"));
    }

    private UUID booked() {
        clock.set(before);
        UUID id = fixture.appointment(
                clinic,
                fixture.referral(clinic, Method.MICROSUCTION, Ears.LEFT),
                fixture.place(clinic, WEDNESDAY.atTime(10, 0), 30));
        clock.set(MORNING);
        return id;
    }

    private List<RedFlagCase> open(Referral referral) {
        return cases.openOf(clinic.id(), referral.patientId());
    }

    private Appointment appointment(UUID id) {
        return appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow();
    }

    private Referral referral(UUID id) {
        return referrals
                .findByClinicIdAndId(clinic.id(), appointment(id).referralId().orElseThrow())
                .orElseThrow();
    }

    private ResultActions answer(UUID id, String field, String value) throws Exception {
        return mvc.perform(post("/appointments/" + id + "/arrival")
                .param(field, value)
                .with(receptionist)
                .with(csrf()));
    }

    private void press(UUID id, String what, RequestPostProcessor who, int expected) throws Exception {
        mvc.perform(post("/appointments/" + id + "/" + what).with(who).with(csrf()))
                .andExpect(status().is(expected));
    }
}
