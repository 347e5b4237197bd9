package org.earslot.appointment.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;
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
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagCases;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.select.Elements;
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
    private Booking booking;

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
        referral.amend(referral.details().with(RedFlagAnswers.NOT_ASKED));
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
        assertThat(referral(id).details().redFlags().allNo()).isTrue();
    }

    @Test
    void a_yes_at_arrival_opens_a_case_again_and_tells_whom_to_tell() throws Exception {
        UUID id = booked();
        triage.sendRedFlagsTo(clinic.id(), clinic.p1());
        Referral referral = referral(id);
        intake.answerRedFlags(
                referral, new RedFlagAnswers(Map.of(RedFlag.NEW_VERTIGO, Answer.YES), null), new Taker("r", null));
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
        intake.answerRedFlags(
                referral, new RedFlagAnswers(Map.of(RedFlag.HEAD_INJURY, Answer.YES), null), new Taker("r", null));
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
        intake.answerRedFlags(
                referral, new RedFlagAnswers(Map.of(RedFlag.HEAD_INJURY, Answer.YES), null), new Taker("r", null));
        press(id, "call-in", practitioner, 302);
        assertThat(appointment(id).status()).isEqualTo(AppointmentStatus.FULFILLED);
        assertThat(open(referral))
                .singleElement()
                .satisfies(one -> assertThat(one.undecided()).isFalse());
        assertThat(triage.steps(clinic.id(), open(referral)))
                .anySatisfy(step -> assertThat(step.what()).isEqualTo("see_here"));
    }

    /** On the running list as on the day page: no button checks in without asking. */
    @Test
    void the_running_list_asks_on_the_same_terms() throws Exception {
        UUID id = booked();
        UUID second = second();
        Elements forms = Jsoup.parse(list()).select("form[action$=/check-in]");
        assertThat(forms).hasSize(2).allSatisfy(form -> {
            assertThat(form.select("input[name=nothingNew]").val()).isEqualTo("yes");
            assertThat(form.text()).isEqualTo("Check in: nothing new");
        });
        assertThat(list()).contains("/appointments/" + id + "/arrival", "/appointments/" + second + "/arrival");
        Referral referral = referral(second);
        referral.amend(referral.details().with(RedFlagAnswers.NOT_ASKED));
        referrals.saveAndFlush(referral);
        assertThat(list())
                .contains("Ask red flags, then check in")
                .doesNotContain("/appointments/" + second + "/check-in");
        intake.answerRedFlags(
                referral(id), new RedFlagAnswers(Map.of(RedFlag.HEAD_INJURY, Answer.YES), null), new Taker("r", null));
        assertThat(list())
                .doesNotContain("/appointments/" + id + "/check-in")
                .doesNotContain("/appointments/" + id + "/arrival");
    }

    @Test
    void who_was_not_asked_at_arrival_is_marked_on_the_running_list_until_asked() throws Exception {
        UUID id = booked();
        mvc.perform(post("/api/v1/appointments/" + id + "/clock")
                        .with(SignedIn.program(clinic.id()))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("{\"event\":\"arrived\"}"))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.redFlagsAsked").doesNotExist());
        assertThat(list()).contains("Red flags not asked at arrival");
        press(id, "call-in", practitioner, 302);
        assertThat(list()).contains("Red flags not asked at arrival");
        answer(id, "noneFlagged", "yes").andExpect(status().is3xxRedirection());
        assertThat(list()).doesNotContain("Red flags not asked at arrival");
        mvc.perform(get("/api/v1/appointments/" + id).with(SignedIn.program(clinic.id())))
                .andExpect(jsonPath("$.redFlagsAsked").value("2026-03-04T09:00:00"));
    }

    @Test
    void wax_without_a_referral_is_asked_the_whole_list_and_gets_a_referral_for_the_answers() throws Exception {
        Patient patient = fixture.patient(clinic, "Testley", "Pat");
        triage.sendRedFlagsTo(clinic.id(), clinic.p1());
        clock.set(MORNING);
        UUID id = unreferred(patient);
        mvc.perform(get("/day/" + WEDNESDAY).with(receptionist))
                .andExpect(content().string(containsString("Ask red flags, then check in")))
                .andExpect(content().string(not(containsString("Check in: nothing new"))));
        assertThat(list()).contains("Ask red flags, then check in");
        press(id, "check-in?nothingNew=yes", receptionist, 302);
        assertThat(appointment(id).redFlagsAskedAt())
                .as("nothing new answers nothing")
                .isEmpty();
        answer(id, "flag.new_vertigo", "yes")
                .andExpect(result -> assertThat(result.getResponse().getRedirectedUrl())
                        .isEqualTo("/referrals/" + referral(id).id()));
        assertThat(referral(id).details().request().reason()).isEqualTo("sent over");
        assertThat(open(referral(id))).hasSize(1);
        UUID other = unreferred(fixture.patient(clinic, "Otherley", "Pat"));
        answer(other, "noneFlagged", "yes").andExpect(redirectedUrl("/day/" + WEDNESDAY));
        assertThat(referral(other).details().redFlags().allNo()).isTrue();
        assertThat(referral(other).status()).isEqualTo(ReferralStatus.BOOKED);
        assertThat(appointment(other).redFlagsAskedBy()).contains("receptionist");
        assertThat(appointment(other).status()).isEqualTo(AppointmentStatus.CHECKED_IN);
    }

    private UUID unreferred(Patient patient) {
        BookingResult result = booking.book(
                clinic.id(),
                new OfFitIn(
                        null,
                        patient.id(),
                        Method.MICROSUCTION,
                        Ears.LEFT,
                        "sent over",
                        fixture.place(clinic, WEDNESDAY.atTime(9, 30), 1)),
                "r");
        return ((BookingResult.Done) result).appointmentId();
    }

    private String list() throws Exception {
        return mvc.perform(get("/day/" + WEDNESDAY + "/now").with(practitioner))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString();
    }

    private UUID second() {
        clock.set(before);
        UUID id = fixture.appointment(
                clinic,
                fixture.referral(clinic, Method.MICROSUCTION, Ears.LEFT),
                fixture.place(clinic, WEDNESDAY.atTime(11, 0), 30));
        clock.set(MORNING);
        return id;
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
