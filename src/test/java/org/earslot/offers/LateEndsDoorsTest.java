package org.earslot.offers;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.BookingRefusalCode.BEYOND_LATE_ENDS;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;
import static org.hamcrest.Matchers.containsString;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.patch;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDateTime;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Sessions;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.offers.OfferedBooking.Anyway;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.offers.WaitlistOffers.Fit;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;

/** Every door by which a visit could come into a session that would then end late more often than the clinic accepts. */
class LateEndsDoorsTest {

    private static final String PATH = "/api/v1/appointments";

    abstract static class Doors {
        @Autowired
        private MockMvc mvc;

        @Autowired
        private Slots slots;

        @Autowired
        private OfferedBooking offered;

        @Autowired
        private Booking booking;

        @Autowired
        private Rescheduling rescheduling;

        @Autowired
        private RescheduleProposals proposals;

        @Autowired
        private WaitlistOffers waitlist;

        @Autowired
        private Appointments appointments;

        @Autowired
        private Sessions sessions;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private DiaryFixture fixture;

        @Autowired
        private SettableClock clock;

        private TestClinic clinic;
        private Referral referral;

        /** Half an hour for visits that take longer: the session is as full as it may be, with an hour free at its end. */
        @BeforeEach
        void a_day_that_is_full_though_an_hour_is_free() {
            clock.set(Instant.parse("2026-03-03T09:00:00Z"));
            clinic = clinics.open();
            for (int half = 0; half < 8; half++) {
                fixture.appointment(clinic, WEDNESDAY.atTime(9, 0).plusMinutes(30L * half), 30);
            }
            for (int half = 0; half < 5; half++) {
                fixture.appointment(clinic, WEDNESDAY.atTime(13, 30).plusMinutes(30L * half), 30);
            }
            referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        }

        private AskedPlace four() {
            return fixture.place(clinic, WEDNESDAY.atTime(16, 0), 60);
        }

        private UUID elsewhere() {
            return fixture.appointment(
                    clinic,
                    referral,
                    fixture.place(clinic, WEDNESDAY.plusDays(1).atTime(10, 0), 60));
        }

        private Appointment appointment(UUID id) {
            return appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow();
        }

        private Offers onTheDay() {
            return (Offers) slots.search(
                    clinic.id(),
                    new SlotWish(
                            referral.id(), null, WEDNESDAY, WEDNESDAY, clinic.p1(), PartOfDay.ANY, Slots.MOST_OFFERS));
        }

        @Test
        void offers_within_the_limit_come_first_and_those_beyond_say_so() {
            assertThat(onTheDay().best()).isNotEmpty().allSatisfy(offer -> {
                assertThat(offer.within()).isFalse();
                assertThat(offer.bookedLateEnd()).isGreaterThan(0.2);
            });
            assertThat(onTheDay().within()).isEmpty();
            List<Offer> all = ((Offers) slots.search(clinic.id(), SlotWish.of(referral.id()))).best();
            assertThat(all)
                    .isNotEmpty()
                    .allSatisfy(offer -> assertThat(offer.within()).isTrue());
        }

        @Test
        void an_offer_is_judged_alike_when_it_is_made_and_when_it_is_booked() {
            List<Offer> offers = ((Offers) slots.search(clinic.id(), SlotWish.of(referral.id()))).best();
            Offer within = offers.get(0);
            BookingResult booked =
                    offered.book(clinic.id(), referral.id(), within.place(), new Anyway(false, false), "a program");
            assertThat(booked).isInstanceOf(Done.class);
            booking.undo(clinic.id(), ((Done) booked).appointmentId(), 0, "a program");
            Offer beyond = onTheDay().best().get(0);
            BookingResult refused =
                    offered.book(clinic.id(), referral.id(), beyond.place(), new Anyway(false, false), "a program");
            assertThat(refused).isInstanceOfSatisfying(NotDone.class, no -> {
                assertThat(no.only(BEYOND_LATE_ENDS)).isTrue();
                assertThat(no.refusals().get(0).arguments())
                        .containsExactly(Math.round(100 * beyond.bookedLateEnd()), 20L);
            });
        }

        @Test
        void a_person_books_beyond_the_limit_with_a_tick_only() throws Exception {
            Document page = page(
                    "/slots?referral=" + referral.id() + "&from=2026-03-04&to=2026-03-04&practitioner=" + clinic.p1());
            assertThat(page.select("section table.offers input[name=allTheSame]"))
                    .isNotEmpty();
            assertThat(page.select("section h2").text()).contains("Beyond the accepted risk");
            Document refused = Jsoup.parse(mvc.perform(desk(post("/appointments"), four())
                            .param("referral", referral.id().toString()))
                    .andExpect(status().is(422))
                    .andExpect(content().string(containsString("The clinic accepts 20.")))
                    .andReturn()
                    .getResponse()
                    .getContentAsString());
            assertThat(refused.select("form.card input[name=start]").val()).isEqualTo("2026-03-04T16:00");
            assertThat(refused.select("form.card input[name=allTheSame]")).hasSize(1);
            mvc.perform(desk(post("/appointments"), four())
                            .param("referral", referral.id().toString())
                            .param("allTheSame", "yes"))
                    .andExpect(status().is3xxRedirection());
        }

        @Test
        void a_person_moves_beyond_the_limit_with_a_tick_only() throws Exception {
            UUID moved = elsewhere();
            String move = "/appointments/" + moved + "/move";
            mvc.perform(desk(post(move), four()).param("version", "0")).andExpect(status().is(422));
            assertThat(appointment(moved).place().date()).isEqualTo(WEDNESDAY.plusDays(1));
            mvc.perform(desk(post(move), four()).param("version", "0").param("allTheSame", "yes"))
                    .andExpect(status().is3xxRedirection());
            assertThat(appointment(moved).place().date()).isEqualTo(WEDNESDAY);
        }

        @Test
        void a_program_is_offered_none_beyond_the_limit_and_told_why_unless_it_asks() throws Exception {
            String asked = "/api/v1/slots?referral=" + referral.id() + "&from=2026-03-04&to=2026-03-04&practitioner=P1";
            mvc.perform(get(asked).with(SignedIn.program(clinic.id())))
                    .andExpect(jsonPath("$.offers").isEmpty())
                    .andExpect(jsonPath("$.none.reason").value("late-ends"));
            mvc.perform(get(asked + "&beyondLimit=true").with(SignedIn.program(clinic.id())))
                    .andExpect(jsonPath("$.offers[0].withinLimit").value(false))
                    .andExpect(jsonPath("$.offers[0].bookedLateEnd").isNumber());
        }

        @Test
        void a_program_books_and_moves_beyond_the_limit_with_the_flag_only() throws Exception {
            String place = """
                    {"session":"%s","start":"2026-03-04T16:00","slotMinutes":60}""".formatted(session().key());
            String body = place.replace("{", "{\"referral\":\"" + referral.id() + "\",");
            mvc.perform(program(post(PATH), body))
                    .andExpect(status().is(422))
                    .andExpect(jsonPath("$.code").value("beyond-late-ends"))
                    .andExpect(jsonPath("$.problems[0].field").value("start"));
            UUID moved = elsewhere();
            mvc.perform(program(patch(PATH + "/" + moved), place).header(HttpHeaders.IF_MATCH, "\"0\""))
                    .andExpect(status().is(422))
                    .andExpect(jsonPath("$.code").value("beyond-late-ends"));
            String meant = place.replace("}", ",\"beyondLimit\":true}");
            mvc.perform(program(patch(PATH + "/" + moved), meant).header(HttpHeaders.IF_MATCH, "\"0\""))
                    .andExpect(status().isOk());
            booking.cancel(clinic.id(), moved, 1, CancelledBy.PATIENT, "ill");
            mvc.perform(program(post(PATH), body.replace("}", ",\"beyondLimit\":true}")))
                    .andExpect(status().isCreated());
        }

        @Test
        void a_program_moves_to_a_slot_shorter_than_offered_with_the_flag_only() throws Exception {
            UUID moved = elsewhere();
            String place = """
                    {"session":"%s","start":"2026-03-05T12:00","slotMinutes":15}""".formatted(sessions.on(clinic.id(), WEDNESDAY.plusDays(1)).stream()
                    .filter(one -> one.practitionerId().equals(clinic.p1()))
                    .findFirst()
                    .orElseThrow()
                    .key());
            mvc.perform(program(patch(PATH + "/" + moved), place).header(HttpHeaders.IF_MATCH, "\"0\""))
                    .andExpect(status().is(422))
                    .andExpect(jsonPath("$.code").value("shorter-than-offered"));
            mvc.perform(program(patch(PATH + "/" + moved), place.replace("}", ",\"shorter\":true}"))
                            .header(HttpHeaders.IF_MATCH, "\"0\""))
                    .andExpect(status().isOk());
        }

        @Test
        void a_gap_beyond_the_limit_is_filled_with_a_tick_only() throws Exception {
            UUID gone = fixture.appointment(clinic, fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH), four());
            booking.cancel(clinic.id(), gone, 0, CancelledBy.PATIENT, "ill");
            Fit fit = waitlist.fits(clinic.id(), gone).get(0);
            assertThat(fit.offer().within()).isFalse();
            Document page = page("/appointments/" + gone + "/gap");
            assertThat(page.select("ol.offers input[name=allTheSame]")).isNotEmpty();
            mvc.perform(desk(post("/appointments"), fit.offer().place())
                            .param("referral", fit.referral().id().toString()))
                    .andExpect(status().is(422));
        }

        @Test
        void a_day_is_never_improved_into_a_late_end_elsewhere() {
            UUID moved = elsewhere();
            assertThat(proposals.offers(clinic.id(), appointment(moved), 12))
                    .noneMatch(move -> move.place().date().equals(WEDNESDAY)
                            && move.place().practitionerId().equals(clinic.p1()));
            BookingResult result = rescheduling.apply(
                    clinic.id(),
                    WEDNESDAY.plusDays(1),
                    DayFix.MOVE,
                    List.of(new Move(moved, 0, four(), false)),
                    "desk");
            assertThat(result)
                    .isInstanceOfSatisfying(
                            NotDone.class,
                            no -> assertThat(no.only(BEYOND_LATE_ENDS)).isTrue());
        }

        /** Whoever is safe to be booked is asked first: the limit never hides another reason. */
        @Test
        void another_reason_comes_before_the_limit() {
            BookingResult result = offered.book(
                    clinic.id(),
                    referral.id(),
                    fixture.place(clinic, WEDNESDAY.atTime(9, 0), 30),
                    new Anyway(false, true),
                    "desk");
            assertThat(result)
                    .isInstanceOfSatisfying(
                            NotDone.class,
                            no -> assertThat(no.refusals().get(0).code()).isEqualTo("slot-taken"));
        }

        private ClinicSession session() {
            return sessions.on(clinic.id(), WEDNESDAY).stream()
                    .filter(one -> one.practitionerId().equals(clinic.p1()))
                    .findFirst()
                    .orElseThrow();
        }

        private Document page(String address) throws Exception {
            return Jsoup.parse(mvc.perform(get(address).with(SignedIn.receptionist(clinic.id())))
                    .andExpect(status().isOk())
                    .andReturn()
                    .getResponse()
                    .getContentAsString());
        }

        private MockHttpServletRequestBuilder desk(MockHttpServletRequestBuilder request, AskedPlace place) {
            LocalDateTime start = place.start();
            return request.param("practitioner", place.practitionerId().toString())
                    .param("room", place.roomId().toString())
                    .param("start", start.toString())
                    .param("slotMinutes", String.valueOf(place.slotMinutes()))
                    .with(SignedIn.receptionist(clinic.id()))
                    .with(csrf());
        }

        private MockHttpServletRequestBuilder program(MockHttpServletRequestBuilder request, String body) {
            return request.with(SignedIn.program(clinic.id()))
                    .contentType(MediaType.APPLICATION_JSON)
                    .content(body);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Doors {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Doors {}
}
