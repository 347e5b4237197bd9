package org.earslot.appointment.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.Appointments;
import org.earslot.booking.Cover;
import org.earslot.booking.DiaryFixture;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.kit.InstrumentKinds;
import org.earslot.clinic.kit.InstrumentSet;
import org.earslot.clinic.kit.InstrumentSets;
import org.earslot.clinic.kit.SetUses;
import org.earslot.clinic.kit.StockItems;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.kit.CycleLookBack;
import org.earslot.kit.KitForecast;
import org.earslot.referral.Referral;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class KitPagesTest {

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private InstrumentKinds kinds;

    @Autowired
    private InstrumentSets sets;

    @Autowired
    private SetUses uses;

    @Autowired
    private StockItems stock;

    @Autowired
    private KitForecast forecast;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Sessions sessions;

    @Autowired
    private Cover cover;

    @Autowired
    private CycleLookBack lookBack;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor receptionist;
    private RequestPostProcessor lead;

    @BeforeEach
    void opensAClinic() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
        receptionist = SignedIn.receptionist(clinic.id());
        lead = SignedIn.lead(clinic.id());
    }

    @Test
    void keeps_set_and_cycle_with_the_patient_it_was_used_for() throws Exception {
        UUID kind = trays(2);
        UUID visit = diary.appointment(
                clinic,
                diary.referral(clinic, Method.MANUAL_REMOVAL, Ears.LEFT),
                diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        InstrumentSet first = sets.findByClinicIdOrderByNumber(clinic.id()).get(0);
        use(visit, first, 409);
        press(post("/kit/kinds/" + kind + "/start").param("cycle", ""), receptionist, 400);
        press(post("/kit/kinds/" + kind + "/start").param("cycle", "C-0417"), receptionist, 302);
        use(visit, first, 409);
        press(post("/kit/kinds/" + kind + "/end").param("passed", "yes"), receptionist, 400);
        press(post("/kit/kinds/" + kind + "/end").param("passed", "yes").param("saidBy", " "), receptionist, 400);
        use(visit, first, 409);
        mvc.perform(get("/kit").with(receptionist))
                .andExpect(content().string(containsString("Who says that it has passed?")));
        press(post("/kit/kinds/" + kind + "/end").param("passed", "yes").param("saidBy", "P1"), receptionist, 302);
        press(post("/kit/kinds/" + kind + "/end").param("passed", "yes"), receptionist, 409);
        use(visit, first, 302);
        use(visit, first, 409);
        assertThat(uses.findByClinicIdAndCycleNumberOrderByAt(clinic.id(), "C-0417"))
                .singleElement()
                .satisfies(used -> assertThat(used.appointmentId()).isEqualTo(visit));
        mvc.perform(get("/appointments/" + visit).with(receptionist))
                .andExpect(content().string(containsString("Tray, set 1, cycle C-0417")));
        press(post("/kit/sets/" + first.id() + "/dirty"), receptionist, 302);
        press(post("/kit/sets/" + first.id() + "/dirty"), receptionist, 409);
        mvc.perform(get("/kit").with(receptionist))
                .andExpect(content().string(containsString("<strong>dirty</strong>")))
                .andExpect(content().string(containsString("<strong>clean</strong>")));
    }

    @Test
    void leaves_sets_dirty_after_a_cycle_that_failed_and_keeps_its_number() throws Exception {
        UUID kind = trays(1);
        press(post("/kit/kinds/" + kind + "/start").param("cycle", "7"), receptionist, 302);
        press(post("/kit/kinds/" + kind + "/end").param("passed", "no"), receptionist, 302);
        assertThat(sets.findByClinicIdOrderByNumber(clinic.id()).get(0))
                .satisfies(set -> assertThat(set.state()).isEqualTo("dirty"))
                .satisfies(set -> assertThat(set.cycleNumber()).contains("7"));
        mvc.perform(get("/kit/cycles").param("cycle", "7").with(receptionist))
                .andExpect(content().string(containsString("Tray, set 1, started 3 Mar 2026 09:00")))
                .andExpect(content().string(containsString("<strong class=\"mark unsigned\">Cycle failed</strong>")))
                .andExpect(content().string(containsString("No visit is recorded with a set of this cycle.")));
    }

    @Test
    void looks_back_from_a_cycle_to_those_treated_with_its_sets() throws Exception {
        UUID kind = trays(1);
        Referral referral = diary.referral(clinic, Method.MANUAL_REMOVAL, Ears.LEFT);
        UUID visit = diary.appointment(
                clinic,
                referral,
                diary.place(clinic, DiaryFixture.WEDNESDAY.minusDays(1).atTime(9, 0), 30));
        press(post("/kit/kinds/" + kind + "/start").param("cycle", "C-0417"), receptionist, 302);
        clock.advance(Duration.ofMinutes(240));
        press(post("/kit/kinds/" + kind + "/end").param("passed", "yes"), receptionist, 302);
        InstrumentSet tray = sets.findByClinicIdOrderByNumber(clinic.id()).get(0);
        use(visit, tray, 302);
        press(post("/kit/sets/" + tray.id() + "/dirty"), receptionist, 302);
        press(post("/kit/kinds/" + kind + "/start").param("cycle", "C-0418"), receptionist, 302);
        assertThat(lookBack.of(clinic.id(), "C-0417").treated())
                .singleElement()
                .satisfies(one -> assertThat(one.appointmentId()).isEqualTo(visit));
        assertThat(lookBack.of(clinic.id(), "C-0418").treated()).isEmpty();
        mvc.perform(get("/kit/cycles").param("cycle", "C-0417").with(receptionist))
                .andExpect(content().string(containsString("Testley, Pat")))
                .andExpect(content().string(containsString("<strong>Cycle passed</strong>")));
        assertThat(jdbc.sql("select subject_id from audit_entry where clinic_id = ? and detail = 'cycle look-back'")
                        .param(clinic.id().value())
                        .query(String.class)
                        .list())
                .containsExactly(referral.patientId().toString());
        mvc.perform(get("/kit").with(receptionist)).andExpect(content().string(containsString("/kit/cycles")));
    }

    @Test
    void warns_weeks_ahead_and_refuses_nothing() throws Exception {
        trays(1);
        for (int i = 0; i < 3; i++) {
            diary.appointment(
                    clinic,
                    diary.referral(clinic, Method.MANUAL_REMOVAL, Ears.LEFT),
                    diary.place(
                            clinic,
                            DiaryFixture.WEDNESDAY
                                    .plusWeeks(2)
                                    .atTime(10, 30 * (i % 2))
                                    .plusHours(i / 2),
                            30));
        }
        assertThat(forecast.ahead(clinic.id())).singleElement().satisfies(day -> {
            assertThat(day.date()).isEqualTo(DiaryFixture.WEDNESDAY.plusWeeks(2));
            // one set, dirty at 10:30, a cycle of 40 min: clean at 11:10, after the visits of 10:30 and 11:00 began
            assertThat(day.shortSets()).singleElement().satisfies(one -> {
                assertThat(one.without()).isEqualTo(2);
                assertThat(one.first()).isEqualTo("10:30");
                assertThat(one.cleanAgain()).hasToString("Optional[11:10]");
            });
        });
        mvc.perform(get("/kit").with(receptionist)).andExpect(content().string(containsString("without a clean set")));
    }

    @Test
    void shows_a_movable_unit_that_two_rooms_want_and_when_it_is_free() throws Exception {
        diary.appointment(
                clinic,
                diary.referral(clinic, Method.MICROSUCTION, Ears.LEFT),
                diary.place(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30));
        diary.appointment(
                clinic,
                diary.referral(clinic, Method.MICROSUCTION, Ears.LEFT),
                diary.secondPlace(clinic, DiaryFixture.WEDNESDAY.atTime(10, 15), 30));
        // Counted after both were booked: they stay, and are shown.
        press(post("/setup/kit/units").param("name", "Suction on wheels").param("method", "microsuction"), lead, 302);
        mvc.perform(get("/kit").with(receptionist))
                .andExpect(content()
                        .string(containsString("Suction on wheels is wanted in two rooms at 10:15; free from 10:30.")));
        press(
                post("/setup/kit/units")
                        .param("name", "Suction of R2")
                        .param("method", "microsuction")
                        .param("room", clinic.r2().toString()),
                lead,
                302);
        assertThat(forecast.ahead(clinic.id())).isEmpty();
    }

    @Test
    void counts_single_use_stock_in_the_morning() throws Exception {
        press(post("/setup/kit/stock").param("name", "Tips").param("least", "20"), lead, 302);
        UUID tips = stock.findByClinicIdOrderByName(clinic.id()).get(0).id();
        press(post("/kit/stock/" + tips).param("counted", "many"), receptionist, 400);
        press(post("/kit/stock/" + tips).param("counted", "12"), receptionist, 302);
        assertThat(stock.findByClinicIdAndId(clinic.id(), tips).orElseThrow().shortOf())
                .isTrue();
        press(
                post("/kit/stock/" + tips).param("counted", "12"),
                SignedIn.receptionist(clinics.open().id()),
                409);
    }

    @ParameterizedTest
    @CsvSource({
        "name, ''",
        "method, laser",
        "sets, 0",
        "sets, 100",
        "cycleMinutes, 0",
        "cycleMinutes, 241",
        "testMinutes, -1"
    })
    void refuses_a_kind_that_cannot_be(String field, String value) throws Exception {
        MockHttpServletRequestBuilder form = post("/setup/kit/kinds");
        for (String[] one : List.of(
                new String[] {"name", "Tray"},
                new String[] {"method", "manual_removal"},
                new String[] {"sets", "2"},
                new String[] {"cycleMinutes", "40"},
                new String[] {"testMinutes", "10"})) {
            form.param(one[0], one[0].equals(field) ? value : one[1]);
        }
        press(form, lead, 400);
        assertThat(kinds.findByClinicIdOrderByName(clinic.id())).isEmpty();
    }

    @Test
    void covers_a_session_moves_nothing_and_hands_over_by_a_press() throws Exception {
        UUID suction = diary.appointment(
                clinic,
                diary.referral(clinic, Method.MICROSUCTION, Ears.LEFT),
                diary.place(clinic, DiaryFixture.WEDNESDAY.atTime(10, 0), 30));
        UUID water = diary.appointment(
                clinic,
                diary.referral(clinic, Method.IRRIGATION, Ears.LEFT),
                diary.place(clinic, DiaryFixture.WEDNESDAY.atTime(11, 0), 30));
        String session = sessions.on(clinic.id(), DiaryFixture.WEDNESDAY).stream()
                .filter(held -> held.practitionerId().equals(clinic.p1()))
                .findFirst()
                .orElseThrow()
                .key();
        MockHttpServletRequestBuilder busy = coverForm(session, clinic.p2(), "ill");
        press(busy, lead, 400);
        press(
                post("/setup/exceptions")
                        .param("kind", "closed")
                        .param("date", DiaryFixture.WEDNESDAY.toString())
                        .param("practitioner", clinic.p2().toString())
                        .param("reason", "comes over"),
                lead,
                302);
        press(coverForm(session, clinic.p2(), ""), lead, 400);
        press(coverForm("none", clinic.p2(), "ill"), lead, 400);
        press(coverForm(session, clinic.p2(), "ill"), receptionist, 403);
        press(coverForm(session, clinic.p2(), "ill"), lead, 302);
        assertThat(sessions.on(clinic.id(), DiaryFixture.WEDNESDAY))
                .singleElement()
                .satisfies(held -> {
                    assertThat(held.practitionerId()).isEqualTo(clinic.p2());
                    assertThat(held.roomId()).isEqualTo(clinic.r1());
                });
        assertThat(cover.visits(clinic.id(), DiaryFixture.WEDNESDAY, clinic.p1(), clinic.p2()))
                .extracting(visit -> visit.appointment().id(), Cover.Covered::held)
                .containsExactly(
                        org.assertj.core.groups.Tuple.tuple(suction, true),
                        org.assertj.core.groups.Tuple.tuple(water, false));
        mvc.perform(get("/setup/cover?date=" + DiaryFixture.WEDNESDAY + "&absent=" + clinic.p1() + "&cover="
                                + clinic.p2())
                        .with(lead))
                .andExpect(content().string(containsString("the covering practitioner is not trained in this method")))
                .andExpect(content().string(containsString("Hand over")));
        press(
                post("/appointments/" + suction + "/move")
                        .param("version", "0")
                        .param("practitioner", clinic.p2().toString())
                        .param("room", clinic.r1().toString())
                        .param("start", "2026-03-04T10:00")
                        .param("slotMinutes", "30"),
                receptionist,
                302);
        assertThat(appointments
                        .findByClinicIdAndId(clinic.id(), suction)
                        .orElseThrow()
                        .place()
                        .practitionerId())
                .isEqualTo(clinic.p2());
        assertThat(cover.visits(clinic.id(), DiaryFixture.WEDNESDAY, clinic.p1(), clinic.p2()))
                .hasSize(1);
    }

    private static MockHttpServletRequestBuilder coverForm(String session, UUID by, String reason) {
        return post("/setup/cover")
                .param("date", DiaryFixture.WEDNESDAY.toString())
                .param("session", session)
                .param("practitioner", by.toString())
                .param("reason", reason);
    }

    private UUID trays(int count) throws Exception {
        press(
                post("/setup/kit/kinds")
                        .param("name", "Tray")
                        .param("method", "manual_removal")
                        .param("sets", String.valueOf(count))
                        .param("cycleMinutes", "40")
                        .param("testMinutes", "10"),
                lead,
                302);
        return kinds.findByClinicIdOrderByName(clinic.id()).get(0).id();
    }

    private void use(UUID visit, InstrumentSet set, int expected) throws Exception {
        press(post("/appointments/" + visit + "/sets").param("set", set.id().toString()), receptionist, expected);
    }

    private void press(MockHttpServletRequestBuilder form, RequestPostProcessor who, int expected) throws Exception {
        mvc.perform(form.with(who).with(csrf())).andExpect(status().is(expected));
    }
}
