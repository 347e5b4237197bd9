package org.earslot.booking;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.AGE_NOT_SEEN;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.LocalDate;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.assertj.core.groups.Tuple;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.AgeRange;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Sessions;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.offers.DayFix;
import org.earslot.offers.MethodChoices;
import org.earslot.offers.Move;
import org.earslot.offers.RescheduleProposals;
import org.earslot.offers.Rescheduling;
import org.earslot.offers.SlotWish;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.offers.Slots;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.offers.WaitlistEntries;
import org.earslot.patient.ContactRoute;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;

/** A practitioner who sees adults alone is offered and booked no child, judged on the appointment's own date. */
@PageTest
class AgesSeenTest {

    private static final LocalDate DAY = DiaryFixture.WEDNESDAY;
    private static final LocalDate CHILD = LocalDate.of(2015, 6, 1);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private Patients patients;

    @Autowired
    private Practitioners practitioners;

    @Autowired
    private Booking booking;

    @Autowired
    private Slots slots;

    @Autowired
    private Sessions sessions;

    @Autowired
    private Rescheduling rescheduling;

    @Autowired
    private RescheduleProposals rescheduleProposals;

    @Autowired
    private WaitlistEntries seekers;

    @Autowired
    private Cover cover;

    @Autowired
    private MethodChoices choices;

    @Autowired
    private Appointments appointments;

    private TestClinic clinic;

    @BeforeEach
    void first_practitioner_sees_adults() throws Exception {
        clinic = clinics.open();
        save("18", "").andExpect(status().is3xxRedirection());
    }

    @ParameterizedTest
    @CsvSource({"2008-03-04, true", "2008-03-05, false", "1930-01-01, true", "2026-01-01, false", ", true"})
    void books_by_the_age_on_the_day(@Nullable LocalDate born, boolean booked) {
        BookingResult result = book(referral(born));
        assertThat(result instanceof Done).isEqualTo(booked);
        if (result instanceof NotDone no) {
            assertThat(no.only(AGE_NOT_SEEN)).isTrue();
        }
    }

    @Test
    void offers_a_child_only_those_who_see_children() {
        Offers offers = (Offers) slots.search(
                clinic.id(),
                new SlotWish(referral(LocalDate.of(2015, 6, 1)).id(), null, DAY, DAY, null, PartOfDay.ANY, 9));
        assertThat(offers.best().stream()
                        .map(offer -> offer.session().practitionerId())
                        .collect(Collectors.toSet()))
                .isEqualTo(Set.of(clinic.p2()));
    }

    @Test
    void answers_a_program_with_422_and_shows_the_age() throws Exception {
        Referral child = referral(LocalDate.of(2015, 6, 1));
        mvc.perform(post("/api/v1/appointments")
                        .with(SignedIn.program(clinic.id()))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("""
                                {"referral":"%s","session":"%s","start":"%sT10:00","slotMinutes":30}""".formatted(child.id(), session(clinic.p1()), DAY)))
                .andExpect(status().is(422))
                .andExpect(content().string(containsString("age-not-seen")));
        for (String page : new String[] {"/referrals/" + child.id(), "/patients/" + child.patientId()}) {
            mvc.perform(get(page).with(SignedIn.receptionist(clinic.id())))
                    .andExpect(content().string(containsString("aged 10")));
        }
    }

    @Test
    void moves_no_child_by_any_door() {
        Referral child = referral(CHILD);
        UUID id = diary.appointment(clinic, child, diary.secondPlace(clinic, DAY.atTime(10, 0), 30));
        AskedPlace adults = diary.place(clinic, DAY.atTime(11, 0), 30);
        assertThat(onlyTheAge(booking.move(clinic.id(), id, 0, adults))).isTrue();
        assertThat(onlyTheAge(rescheduling.apply(
                        clinic.id(), DAY, DayFix.MOVE, List.of(new Move(id, 0, adults, true)), "lead")))
                .isTrue();
        Appointment booked = appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow();
        assertThat(rescheduleProposals.offers(clinic.id(), booked, Slots.MOST_OFFERS))
                .isNotEmpty()
                .allSatisfy(shift -> assertThat(shift.place().practitionerId()).isEqualTo(clinic.p2()));
    }

    @Test
    void fits_no_child_in_and_offers_no_child_a_gap() {
        Referral child = referral(CHILD);
        BookingRequest fitIn = new BookingRequest.OfFitIn(
                child.id(), null, null, null, "walk-in", diary.place(clinic, DAY.atTime(10, 7), 1));
        assertThat(onlyTheAge(booking.book(clinic.id(), fitIn, "receptionist"))).isTrue();
        Referral adult = referral(LocalDate.of(1960, 1, 1));
        UUID gone = diary.appointment(
                clinic, referral(LocalDate.of(1950, 1, 1)), diary.place(clinic, DAY.atTime(10, 0), 30));
        assertThat(seekers.of(
                        appointments.findByClinicIdAndId(clinic.id(), gone).orElseThrow(), false))
                .extracting(one -> one.referral().id())
                .contains(adult.id())
                .doesNotContain(child.id());
    }

    @Test
    void hands_no_child_over_to_a_cover_who_sees_adults() throws Exception {
        UUID child = diary.appointment(clinic, referral(CHILD), diary.secondPlace(clinic, DAY.atTime(10, 0), 30));
        UUID adult = diary.appointment(
                clinic, referral(LocalDate.of(1960, 1, 1)), diary.secondPlace(clinic, DAY.atTime(11, 0), 30));
        String covered = session(clinic.p2());
        lead(post("/setup/exceptions")
                .param("kind", "closed")
                .param("date", DAY.toString())
                .param("practitioner", clinic.p1().toString())
                .param("reason", "comes over"));
        lead(post("/setup/cover")
                .param("date", DAY.toString())
                .param("session", covered)
                .param("practitioner", clinic.p1().toString())
                .param("reason", "ill"));
        assertThat(cover.visits(clinic.id(), DAY, clinic.p2(), clinic.p1()))
                .extracting(visit -> visit.appointment().id(), Cover.Covered::possible)
                .containsExactly(Tuple.tuple(child, false), Tuple.tuple(adult, true));
        mvc.perform(get("/setup/cover?date=" + DAY + "&absent=" + clinic.p2() + "&cover=" + clinic.p1())
                        .with(SignedIn.lead(clinic.id())))
                .andExpect(content().string(containsString("the cover does not see patients of this age")));
        mvc.perform(get("/day/" + DAY + "/sheet").with(SignedIn.lead(clinic.id())))
                .andExpect(
                        content().string(containsString("10:00 Testley, Pat: P1 does not see patients of this age.")))
                .andExpect(content().string(not(containsString("11:00 Testley, Pat: P1 does not see"))));
        AskedPlace handedOver = new AskedPlace(clinic.p1(), clinic.r2(), DAY.atTime(10, 0), 30);
        assertThat(onlyTheAge(booking.move(clinic.id(), child, 0, handedOver))).isTrue();
    }

    @Test
    void names_nobody_for_a_child_who_sees_adults_alone_and_says_why_there_is_no_offer() throws Exception {
        Referral child = referral(CHILD);
        assertThat(choices.of(child, DAY).stream()
                        .filter(choice -> choice.method() == Method.MICROSUCTION)
                        .findFirst()
                        .orElseThrow()
                        .heldBy())
                .containsExactly("P2");
        assertThat(slotsPage(child))
                .doesNotContain("value=\"" + clinic.p1() + "\"")
                .contains("value=\"" + clinic.p2() + "\"");
        assertThat(slotsPage(referral(null))).contains("value=\"" + clinic.p1() + "\"");
        mvc.perform(get("/api/v1/slots?referral=" + waterForAChild().id() + "&from=" + DAY + "&to=" + DAY)
                        .with(SignedIn.program(clinic.id())))
                .andExpect(content().string(containsString("\"reason\":\"age-not-seen\"")));
    }

    private Referral waterForAChild() {
        Patient child = patients.findByClinicIdAndId(
                        clinic.id(), referral(CHILD).patientId())
                .orElseThrow();
        return diary.referral(clinic, child, DiaryFixture.details(Method.IRRIGATION, Ears.RIGHT, null, null, null));
    }

    private String slotsPage(Referral of) throws Exception {
        return mvc.perform(get("/slots?referral=" + of.id()).with(SignedIn.receptionist(clinic.id())))
                .andReturn()
                .getResponse()
                .getContentAsString();
    }

    private void lead(MockHttpServletRequestBuilder form) throws Exception {
        mvc.perform(form.with(SignedIn.lead(clinic.id())).with(csrf())).andExpect(status().is3xxRedirection());
    }

    private static boolean onlyTheAge(BookingResult result) {
        return result instanceof NotDone no && no.only(AGE_NOT_SEEN);
    }

    @Test
    void refuses_a_range_that_holds_nobody() throws Exception {
        save("18", "17").andExpect(status().isBadRequest());
        save("-1", "").andExpect(status().isBadRequest());
        save("0", "17").andExpect(status().is3xxRedirection());
        assertThat(practitioners
                        .findByClinicIdAndId(clinic.id(), clinic.p1())
                        .orElseThrow()
                        .ages())
                .isEqualTo(new AgeRange(0, 17));
    }

    private org.springframework.test.web.servlet.ResultActions save(String least, String most) throws Exception {
        return mvc.perform(post("/setup/practitioners/" + clinic.p1())
                .param(
                        "version",
                        String.valueOf(practitioners
                                .findByClinicIdAndId(clinic.id(), clinic.p1())
                                .orElseThrow()
                                .version()))
                .param("name", "P1")
                .param("methods", "irrigation", "microsuction")
                .param("active", "yes")
                .param("leastAge", least)
                .param("mostAge", most)
                .with(SignedIn.lead(clinic.id()))
                .with(csrf()));
    }

    private String session(UUID practitioner) {
        return sessions.on(clinic.id(), DAY).stream()
                .filter(one -> one.practitionerId().equals(practitioner))
                .findFirst()
                .orElseThrow()
                .key();
    }

    private BookingResult book(Referral referral) {
        return booking.book(
                clinic.id(), new OfReferral(referral.id(), diary.place(clinic, DAY.atTime(10, 0), 30)), "receptionist");
    }

    private Referral referral(@Nullable LocalDate born) {
        PatientDetails details = new PatientDetails(
                "Testley",
                "Pat",
                born,
                "01632 960001",
                null,
                null,
                Answer.NOT_KNOWN,
                ContactRoute.CALL,
                null,
                null,
                null,
                null,
                Answer.NO);
        String number = "T" + UUID.randomUUID().toString().substring(0, 8);
        Patient patient = patients.save(new Patient(
                UUID.randomUUID(),
                clinic.id(),
                number,
                details,
                DAY.atStartOfDay().toInstant(java.time.ZoneOffset.UTC)));
        return diary.referral(clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.RIGHT, null, null, null));
    }
}
