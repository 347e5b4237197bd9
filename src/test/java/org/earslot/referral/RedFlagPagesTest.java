package org.earslot.referral;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.RED_FLAGS_NOT_ASKED;
import static org.earslot.booking.BookingRefusalCode.RED_FLAG_OPEN;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.DiaryFixture;
import org.earslot.caution.Mark;
import org.earslot.ear.Answer;
import org.earslot.page.FormVersion;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.data.domain.Limit;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class RedFlagPagesTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private Referrals referrals;

    @Autowired
    private RedFlags redFlags;

    @Autowired
    private RedFlagCases cases;

    @Autowired
    private Booking booking;

    @Autowired
    private Patients patients;

    @Autowired
    private DiaryFixture diary;

    private TestClinic clinic;
    private RequestPostProcessor receptionist;
    private RequestPostProcessor practitioner;
    private RequestPostProcessor lead;

    @BeforeEach
    void opensAClinic() {
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
        practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        lead = SignedIn.lead(clinic.id());
    }

    @ParameterizedTest
    @EnumSource(value = RedFlag.class, mode = EnumSource.Mode.EXCLUDE, names = "ONE_SIDED_TINNITUS")
    void stops_routine_booking_at_each_red_flag(RedFlag flag) throws Exception {
        Referral referral = taken(form().param("flag." + flag.code(), "yes"));
        assertThat(referral.status()).isEqualTo(ReferralStatus.TO_TRIAGE);
        assertThat(book(referral))
                .isInstanceOfSatisfying(
                        NotDone.class, no -> assertThat(no.only(RED_FLAG_OPEN)).isTrue());
    }

    /** Each row typed again from where it is said, not read from the defaults. */
    @ParameterizedTest
    @CsvSource({
        "sudden_loss_recent, within 24 hours, 'NICE NG98 1.1.2 (United Kingdom, adults)', PUBLISHED",
        "sudden_loss_earlier, within 2 weeks, 'NICE NG98 (United Kingdom, adults)', PUBLISHED",
        "loss_with_droop, 'If it could be a stroke: the emergency number, now. Otherwise ENT within 24 hours', NICE NG98 1.1.3, PUBLISHED",
        "weak_immunity, ENT within 24 hours, NICE NG98 1.1.4, PUBLISHED",
        "button_battery, Put no drops in, 'common practice, no source', FROM_MEMORY",
        "swelling_behind_ear, today, 'common practice, no source', FROM_MEMORY",
        "head_injury, emergency department, 'common practice, no source', FROM_MEMORY",
        "new_vertigo, emergency number, 'common practice, no source', FROM_MEMORY",
        "severe_ear_pain, same day, 'common practice, no source', FROM_MEMORY",
        "pain_or_discharge, before any wax is removed, 'common practice, no source', FROM_MEMORY",
        "one_sided_tinnitus, Does not stop the booking, NICE NG98 1.1.6, PUBLISHED"
    })
    void says_where_guidance_sends_the_person(String code, String sendsTo, String source, Mark mark) {
        RedFlagText text = redFlags.texts(clinic.id()).stream()
                .filter(one -> one.flag().code().equals(code))
                .findFirst()
                .orElseThrow();
        assertThat(text.sendsTo()).contains(sendsTo);
        assertThat(text.source()).contains(source);
        assertThat(text.mark()).isEqualTo(mark);
    }

    @Test
    void goes_to_the_named_clinician_and_shows_the_guidance() throws Exception {
        Referral referral = taken(form().param("flag.sudden_loss_recent", "yes")
                .param("clinician", clinic.p2().toString())
                .param("redFlag", "since Tuesday"));
        mvc.perform(get("/referrals/" + referral.id()).with(receptionist))
                .andExpect(content().string(containsString("With P2")))
                .andExpect(content().string(containsString("within 24 hours")))
                .andExpect(content().string(containsString("NICE NG98")))
                .andExpect(content().string(containsString("since Tuesday")));
        mvc.perform(get("/referrals").with(receptionist))
                .andExpect(content().string(containsString("One red flag waits for a clinician")));
    }

    @Test
    void says_the_stroke_route_first_and_until_when_it_is_to_be_decided() throws Exception {
        Referral droop = taken(form().param("flag.loss_with_droop", "yes"));
        mvc.perform(get("/referrals/" + droop.id()).with(receptionist))
                .andExpect(content().string(containsString("if it could be a stroke, call the emergency number now")))
                .andExpect(content().string(containsString("A clinician decides now.")));
        Referral recent = taken(form("/referrals", "Quillfeather")
                .param("flag.sudden_loss_recent", "yes")
                .param("clinician", clinic.p2().toString()));
        mvc.perform(get("/referrals/" + recent.id()).with(receptionist))
                .andExpect(content().string(not(containsString("could be a stroke, call"))))
                .andExpect(content().string(containsString("A clinician decides by 09:00 tomorrow.")));
        mvc.perform(get("/kit").with(receptionist))
                .andExpect(content().string(containsString("P2 decides by 09:00 tomorrow")));
        press("/referrals/" + recent.id() + "/red-flag/not-reached", receptionist, "told", "P2, twice", 302);
        mvc.perform(get("/referrals/" + recent.id()).with(receptionist))
                .andExpect(content().string(containsString("Nobody was reached: do not wait.")));
        press("/referrals/" + recent.id() + "/red-flag/sent-on", practitioner, "decided", "ENT", 302);
        mvc.perform(get("/kit").with(receptionist)).andExpect(content().string(not(containsString("P2 decides"))));
    }

    @Test
    void goes_to_the_clinician_whom_the_lead_has_settled() throws Exception {
        mvc.perform(post("/setup/red-flags")
                        .param("version", FormVersion.ofText("null").text())
                        .param("clinician", clinic.p1().toString())
                        .with(lead)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        Referral referral = taken(form().param("flag.head_injury", "yes"));
        assertThat(open(referral).clinicianId()).contains(clinic.p1());
    }

    @Test
    void lets_a_clinician_alone_decide_and_keeps_who_did_what() throws Exception {
        Referral referral = taken(form().param("flag.new_vertigo", "yes"));
        String page = "/referrals/" + referral.id();
        press(
                page + "/red-flag/clinician",
                receptionist,
                "clinician",
                clinic.p1().toString(),
                302);
        press(page + "/red-flag/told", receptionist, "told", "P1 told by phone at ten", 302);
        for (String barred : List.of("/red-flag/cleared", "/red-flag/sent-on")) {
            press(page + barred, receptionist, "decided", "no", 403);
        }
        for (String roundabout : List.of("/waiting", "/closed")) {
            press(page + roundabout, receptionist, "reason", "no longer wanted", 409);
        }
        press(page + "/red-flag/cleared", lead, "decided", "a lead who is no practitioner", 409);
        assertThat(standing(referral)).isEqualTo(ReferralStatus.TO_TRIAGE);
        press(page + "/red-flag/cleared", practitioner, "decided", "long-standing, seen last week", 302);
        assertThat(standing(referral)).isEqualTo(ReferralStatus.READY_TO_BOOK);
        mvc.perform(get(page).with(receptionist))
                .andExpect(content().string(containsString("P1 told by phone at ten")))
                .andExpect(content().string(containsString("long-standing, seen last week")))
                .andExpect(content().string(containsString("practitioner</span>: <span>cleared for routine booking")));
        assertThat(book(referral)).isInstanceOf(Done.class);
    }

    @Test
    void closes_a_referral_that_was_sent_on() throws Exception {
        Referral referral = taken(form().param("flag.button_battery", "yes"));
        press(
                "/referrals/" + referral.id() + "/red-flag/sent-on",
                practitioner,
                "decided",
                "emergency department",
                302);
        assertThat(standing(referral)).isEqualTo(ReferralStatus.CLOSED);
        press("/referrals/" + referral.id() + "/red-flag/sent-on", practitioner, "decided", "again", 409);
    }

    @Test
    void keeps_a_red_flag_that_is_answered_with_no_later_and_raises_a_settled_one_once() throws Exception {
        Referral referral = taken(form().param("flag.new_vertigo", "yes"));
        String page = "/referrals/" + referral.id();
        mvc.perform(editOf(page).param("flag.new_vertigo", "no").with(receptionist))
                .andExpect(status().is3xxRedirection());
        assertThat(standing(referral)).isEqualTo(ReferralStatus.TO_TRIAGE);
        assertThat(open(referral).flags()).containsExactly(RedFlag.NEW_VERTIGO);
        press(page + "/red-flag/cleared", practitioner, "decided", "not new", 302);
        mvc.perform(editOf(page).param("flag.new_vertigo", "yes").with(receptionist))
                .andExpect(status().is3xxRedirection());
        assertThat(standing(referral)).isEqualTo(ReferralStatus.READY_TO_BOOK);
        mvc.perform(editOf(page).param("flag.head_injury", "yes").with(receptionist))
                .andExpect(status().is3xxRedirection());
        assertThat(standing(referral)).isEqualTo(ReferralStatus.TO_TRIAGE);
    }

    @Test
    void comes_back_to_the_appointment_it_had_when_a_flag_is_cleared() throws Exception {
        Referral referral = taken(form().param("noneFlagged", "yes"));
        assertThat(book(referral)).isInstanceOf(Done.class);
        String page = "/referrals/" + referral.id();
        mvc.perform(editOf(page).param("flag.head_injury", "yes").with(receptionist))
                .andExpect(status().is3xxRedirection());
        assertThat(standing(referral)).isEqualTo(ReferralStatus.TO_TRIAGE);
        press(page + "/red-flag/cleared", practitioner, "decided", "years ago", 302);
        assertThat(standing(referral)).isEqualTo(ReferralStatus.BOOKED);
    }

    @Test
    void tells_no_from_not_known_and_from_not_asked() throws Exception {
        Referral all = taken(form().param("noneFlagged", "yes"));
        assertThat(all.details().redFlags().allNo()).isTrue();
        Referral one = taken(form("/referrals", "Quillfeather")
                .param("flag.head_injury", "no")
                .param("flag.new_vertigo", "not_known"));
        assertThat(one.details().redFlags().of(RedFlag.HEAD_INJURY)).contains(Answer.NO);
        assertThat(one.details().redFlags().of(RedFlag.NEW_VERTIGO)).contains(Answer.NOT_KNOWN);
        assertThat(one.details().redFlags().of(RedFlag.BUTTON_BATTERY)).isEmpty();
        assertThat(one.status()).isEqualTo(ReferralStatus.TO_TRIAGE);
        assertThat(open(one).flagsNotKnown()).containsExactly(RedFlag.NEW_VERTIGO);
        mvc.perform(get("/referrals/" + one.id()).with(receptionist))
                .andExpect(content().string(containsString("(not known)")));
    }

    @Test
    void holds_what_was_not_asked_until_every_answer_is_no() throws Exception {
        Referral unasked = taken(form().param("flag.head_injury", "no"));
        assertThat(unasked.status()).isEqualTo(ReferralStatus.TO_TRIAGE);
        assertThat(cases.findByClinicIdAndReferralIdOrderByRaisedAtDesc(clinic.id(), unasked.id()))
                .isEmpty();
        assertThat(book(unasked)).isEqualTo(BookingResult.refused(RED_FLAGS_NOT_ASKED));
        String page = "/referrals/" + unasked.id();
        press(page + "/waiting", receptionist, "x", "", 409);
        mvc.perform(get(page).with(receptionist))
                .andExpect(content().string(containsString("Red flags still to ask: not ready to book")));
        mvc.perform(get("/referrals?status=to_triage").with(receptionist))
                .andExpect(content().string(containsString(">red flags still to ask<")));
        mvc.perform(editOf(page).param("noneFlagged", "yes").with(receptionist)).andExpect(status().is3xxRedirection());
        assertThat(standing(unasked)).isEqualTo(ReferralStatus.READY_TO_BOOK);
        assertThat(book(unasked)).isInstanceOf(Done.class);
    }

    @Test
    void lets_a_clinician_alone_go_on_without_asking_and_stores_that() throws Exception {
        Referral unasked = taken(form());
        String decided = "/referrals/" + unasked.id() + "/red-flag/cleared";
        press(decided, receptionist, "decided", "seen today", 403);
        press(decided, lead, "decided", "seen today", 409);
        press(decided, practitioner, "decided", "seen today by me", 302);
        assertThat(standing(unasked)).isEqualTo(ReferralStatus.READY_TO_BOOK);
        assertThat(cases.findByClinicIdAndReferralIdOrderByRaisedAtDesc(clinic.id(), unasked.id()))
                .singleElement()
                .satisfies(
                        one -> assertThat(one.flagsUnasked()).containsExactlyInAnyOrderElementsOf(RedFlag.stopping()));
        Referral booked =
                referrals.findByClinicIdAndId(clinic.id(), unasked.id()).orElseThrow();
        assertThat(book(booked)).isInstanceOf(Done.class);
    }

    @Test
    void judges_again_when_an_answer_is_taken_away() throws Exception {
        Referral referral = taken(form().param("noneFlagged", "yes"));
        mvc.perform(editOf("/referrals/" + referral.id())
                        .param("flag.head_injury", "no")
                        .with(receptionist))
                .andExpect(status().is3xxRedirection());
        assertThat(standing(referral)).isEqualTo(ReferralStatus.TO_TRIAGE);
    }

    @Test
    void notes_what_stops_nothing_for_the_practitioner() throws Exception {
        MockHttpServletRequestBuilder form = form().param("flag.one_sided_tinnitus", "yes");
        RedFlag.stopping().forEach(flag -> form.param("flag." + flag.code(), "no"));
        Referral referral = taken(form);
        assertThat(referral.status()).isEqualTo(ReferralStatus.READY_TO_BOOK);
        mvc.perform(get("/referrals/" + referral.id()).with(practitioner))
                .andExpect(content().string(containsString("Note for the practitioner and the referrer:")));
    }

    @Test
    void refuses_none_of_these_beside_a_yes() throws Exception {
        mvc.perform(form().param("noneFlagged", "yes")
                        .param("flag.head_injury", "yes")
                        .with(receptionist))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("Please ")));
        assertThat(referrals.standingAt(clinic.id(), "to_triage", Limit.of(9))).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({"flag.head_injury, maybe", "clinician, nobody"})
    void refuses_what_is_no_answer(String field, String value) throws Exception {
        mvc.perform(form().param(field, value).with(receptionist)).andExpect(status().isBadRequest());
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "   "})
    void asks_for_words_where_something_is_decided(String words) throws Exception {
        Referral referral = taken(form().param("flag.new_vertigo", "yes"));
        press("/referrals/" + referral.id() + "/red-flag/cleared", practitioner, "decided", words, 400);
        press("/referrals/" + referral.id() + "/red-flag/told", receptionist, "told", "x".repeat(501), 400);
        press("/referrals/" + referral.id() + "/red-flag/clinician", receptionist, "clinician", "", 400);
        UUID elsewhere = clinics.open().p1();
        press(
                "/referrals/" + referral.id() + "/red-flag/clinician",
                receptionist,
                "clinician",
                elsewhere.toString(),
                409);
        assertThat(standing(referral)).isEqualTo(ReferralStatus.TO_TRIAGE);
    }

    @Test
    void lets_a_practitioner_alone_sign_off_the_words_of_a_red_flag() throws Exception {
        String address = "/setup/red-flags/new_vertigo";
        mvc.perform(post(address)
                        .param("version", textVersion(RedFlag.NEW_VERTIGO))
                        .param("ask", "New dizziness?")
                        .param("sendsTo", "Practice nurse <b>today</b>")
                        .param("source", "local protocol 7")
                        .param("signOff", "yes")
                        .with(lead)
                        .with(csrf()))
                .andExpect(status().isConflict());
        mvc.perform(post(address)
                        .param("version", textVersion(RedFlag.NEW_VERTIGO))
                        .param("ask", "New dizziness?")
                        .param("sendsTo", "Practice nurse <b>today</b>")
                        .param("source", "local protocol 7")
                        .param("signOff", "yes")
                        .with(practitioner)
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(redFlags.texts(clinic.id()))
                .filteredOn(text -> text.flag() == RedFlag.NEW_VERTIGO)
                .singleElement()
                .isEqualTo(new RedFlagText(
                        RedFlag.NEW_VERTIGO,
                        "New dizziness?",
                        "Practice nurse <b>today</b>",
                        "local protocol 7",
                        Mark.SIGNED_OFF));
        mvc.perform(get("/referrals/new?form=" + UUID.randomUUID()).with(receptionist))
                .andExpect(content().string(containsString("New dizziness?")))
                .andExpect(content().string(not(containsString("<b>today</b>"))));
        press(address, lead, "ask", "only this", 400);
        mvc.perform(get("/setup/red-flags").with(lead)).andExpect(content().string(containsString("(not signed off)")));
        assertThat(redFlags.texts(clinics.open().id()))
                .filteredOn(text -> text.flag() == RedFlag.NEW_VERTIGO)
                .singleElement()
                .satisfies(text -> assertThat(text.mark()).isEqualTo(Mark.FROM_MEMORY));
    }

    @Test
    void stops_what_a_program_sends_in_as_well() throws Exception {
        mvc.perform(post("/api/v1/referrals")
                        .with(SignedIn.program(clinic.id()))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("""
                                {"patientRef":"K1","method":"microsuction","ears":["left"],"redFlags":{"button_battery":true,"head_injury":false,"new_vertigo":null}}"""))
                .andExpect(status().isCreated())
                .andExpect(jsonPath("$.status").value("to_triage"));
        Referral referral =
                referrals.standingAt(clinic.id(), "to_triage", Limit.of(9)).get(0);
        assertThat(referral.details().redFlags().raised()).containsExactly(RedFlag.BUTTON_BATTERY);
        assertThat(referral.details().redFlags().notKnown()).containsExactly(RedFlag.NEW_VERTIGO);
        assertThat(open(referral).clinicianId()).isEmpty();
    }

    @Test
    void is_not_ready_where_a_program_has_not_asked() throws Exception {
        mvc.perform(post("/api/v1/referrals")
                        .with(SignedIn.program(clinic.id()))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("{\"patientRef\":\"K1\",\"method\":\"microsuction\",\"ears\":[\"left\"]}"))
                .andExpect(status().isCreated());
        assertThat(referrals.standingAt(clinic.id(), "to_triage", Limit.of(9)))
                .singleElement()
                .satisfies(
                        referral -> assertThat(book(referral)).isEqualTo(BookingResult.refused(RED_FLAGS_NOT_ASKED)));
    }

    @Test
    void tells_a_program_that_its_referral_can_be_booked_once_all_was_asked() throws Exception {
        String answers = Arrays.stream(RedFlag.values())
                .map(flag -> '"' + flag.code() + "\":false")
                .collect(Collectors.joining(","));
        mvc.perform(post("/api/v1/referrals")
                        .with(SignedIn.program(clinic.id()))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("{\"patientRef\":\"K1\",\"method\":\"microsuction\",\"ears\":[\"left\"],\"redFlags\":{"
                                + answers + "}}"))
                .andExpect(status().isCreated())
                .andExpect(jsonPath("$.status").value("ready_to_book"));
    }

    private RedFlagCase open(Referral referral) {
        return cases.findFirstByClinicIdAndReferralIdAndSettledAtIsNull(clinic.id(), referral.id())
                .orElseThrow();
    }

    /** The form that changes a referral, as it is opened now. */
    private MockHttpServletRequestBuilder editOf(String page) {
        Referral referral = referrals
                .findByClinicIdAndId(clinic.id(), UUID.fromString(page.substring(page.lastIndexOf('/') + 1)))
                .orElseThrow();
        Patient patient =
                patients.findByClinicIdAndId(clinic.id(), referral.patientId()).orElseThrow();
        return form(page).param("version", Intake.version(referral, patient).text());
    }

    private String textVersion(RedFlag flag) {
        return redFlags.texts(clinic.id()).stream()
                .filter(text -> text.flag() == flag)
                .map(text -> FormVersion.ofText(text.toString()).text())
                .findFirst()
                .orElseThrow();
    }

    private ReferralStatus standing(Referral referral) {
        return referrals
                .findByClinicIdAndId(clinic.id(), referral.id())
                .orElseThrow()
                .status();
    }

    private BookingResult book(Referral referral) {
        return booking.book(
                clinic.id(),
                new OfReferral(referral.id(), diary.place(clinic, WEDNESDAY.atTime(10, 0), 30)),
                "receptionist");
    }

    private void press(String address, RequestPostProcessor who, String field, String value, int expected)
            throws Exception {
        mvc.perform(post(address).param(field, value).with(who).with(csrf())).andExpect(status().is(expected));
    }

    private Referral taken(MockHttpServletRequestBuilder form) throws Exception {
        String page = mvc.perform(form.with(receptionist))
                .andExpect(status().is3xxRedirection())
                .andReturn()
                .getResponse()
                .getRedirectedUrl();
        UUID id = UUID.fromString(page.substring(page.lastIndexOf('/') + 1));
        return referrals.findByClinicIdAndId(clinic.id(), id).orElseThrow();
    }

    private static MockHttpServletRequestBuilder form() {
        return form("/referrals");
    }

    private static MockHttpServletRequestBuilder form(String address) {
        return form(address, "Wrenbottom");
    }

    private static MockHttpServletRequestBuilder form(String address, String familyName) {
        return post(address)
                .param("familyName", familyName)
                .param("dateOfBirth", "1980-02-03")
                .param("ears", "left")
                .param("method", "microsuction")
                .with(csrf());
    }
}
