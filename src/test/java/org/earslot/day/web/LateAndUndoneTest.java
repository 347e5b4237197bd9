package org.earslot.day.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.testing.SignedIn.practitioner;
import static org.earslot.testing.SignedIn.receptionist;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.ClockEvent;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedules;
import org.earslot.day.LateCard;
import org.earslot.day.LateCard.Turn;
import org.earslot.day.LateCards;
import org.earslot.day.Pace;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.VisitTimes;
import org.earslot.visit.Visits;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Who is overdue, who says to come late and what that does to the list, and presses that are undone. */
@PageTest
class LateAndUndoneTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);

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
    private Referrals referrals;

    @Autowired
    private RunningDay running;

    @Autowired
    private DaySchedules schedules;

    @Autowired
    private LateCards cards;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor chair;
    private RequestPostProcessor desk;
    private UUID first;
    private UUID second;
    private UUID third;

    @BeforeEach
    void three_in_a_row() {
        clock.set(at("08:30"));
        clinic = clinics.open();
        chair = practitioner(clinic.id(), clinic.p1());
        desk = receptionist(clinic.id());
        first = named("Ash", "09:00");
        second = named("Birch", "09:30");
        third = named("Cedar", "10:00");
    }

    @Test
    void an_overdue_patient_stands_on_top_with_a_number_to_phone_and_is_not_told_to_wait() throws Exception {
        clock.set(at("09:04"));
        assertThat(day().select("#overdue")).isEmpty();
        clock.set(at("09:40"));
        Document day = day();
        assertThat(day.select("#overdue li .figure").eachText()).containsExactly("40 min", "10 min");
        assertThat(day.select("#overdue li").get(0).text()).contains("09:00 Ash, Pat");
        assertThat(day.select("#visit-" + first + " .status.is-late").text()).isEqualTo("40 min overdue");
        assertThat(day.select("#overdue form[action=/appointments/" + first + "/did-not-attend]"))
                .hasSize(1);
        assertThat(day.select("#to-tell").text()).doesNotContain("Ash", "Birch");
        assertThat(day.select(".lane-pace a[href=#overdue]").text()).isEqualTo("2 overdue");
    }

    @Test
    void who_says_to_come_late_is_expected_then_and_the_list_goes_on_meanwhile() throws Exception {
        clock.set(at("08:50"));
        press(first, "will-be-late?minutes=30", desk)
                .andExpect(redirectedUrl("/day/" + DAY + "?late=" + first + "#late"));
        assertThat(line(first).comesAt()).isEqualTo(LocalTime.of(9, 30));
        assertThat(line(first).expected().starts()).isAfterOrEqualTo(LocalTime.of(9, 30));
        assertThat(line(first).overdueMinutes(LocalTime.of(9, 30))).isZero();
        Document day = document("/day/" + DAY + "?late=" + first);
        assertThat(day.select("#late h2").text()).isEqualTo("Will be late: P.A., booked 09:00, expected at 09:30");
        assertThat(day.select("#late a[href=/slots?appointment=" + first + "]")).hasSize(1);
        assertThat(day.select("#visit-" + first + " .how").text()).contains("says: here at 09:30");
    }

    @Test
    void late_is_counted_from_now_once_the_booked_start_is_over() throws Exception {
        clock.set(at("09:12"));
        press(first, "will-be-late?minutes=10", desk).andExpect(status().is3xxRedirection());
        assertThat(line(first).comesAt()).isEqualTo(LocalTime.of(9, 22));
        press(first, "will-be-late?minutes=45", desk).andExpect(status().isNotFound());
        press(first, "will-be-late?minutes=soon", desk).andExpect(status().isBadRequest());
    }

    @Test
    void nobody_is_warned_of_the_end_of_a_session_once_all_were_seen() throws Exception {
        List<UUID> all = List.of(first, second, third);
        for (int i = 0; i < all.size(); i++) {
            clock.set(at("17:%02d".formatted(10 * i)));
            press(all.get(i), "check-in?nothingNew=yes", desk);
            press(all.get(i), "call-in", chair);
            assertThat(document("/day/" + DAY + "/sheet").select(".warnings").text())
                    .contains("The session until 17:00 may finish late");
            assertThat(day().select(".lane-head").text()).contains("chance of finishing late");
            clock.set(at("17:%02d".formatted(10 * i + 5)));
            press(all.get(i), "finish", chair);
        }
        Document sheet = document("/day/" + DAY + "/sheet");
        assertThat(sheet.select(".sheet-sessions").text()).endsWith("nobody is left to be seen");
        assertThat(sheet.select(".warnings").text()).doesNotContain("may finish late");
        assertThat(day().select(".lane-head").text()).contains("3 booked").doesNotContain("finishing late");
    }

    @Test
    void nobody_is_expected_after_midnight() {
        clock.set(at("23:45"));
        assertThat(running.willBeLate(clinic.id(), first, 30)).isInstanceOf(BookingResult.NotDone.class);
        assertThat(line(first).comesAt()).isNull();
        assertThat(running.willBeLate(clinic.id(), first, 10)).isInstanceOf(BookingResult.Done.class);
    }

    @Test
    void the_card_of_one_on_the_way_counts_from_the_arrival() {
        clock.set(at("08:50"));
        assertThat(running.willBeLate(clinic.id(), first, 20)).isInstanceOf(BookingResult.Done.class);
        LateCard card = cards.ofLate(clinic.id(), first).orElseThrow();
        assertThat(card.onTheWay()).isTrue();
        assertThat(card.arrived()).isEqualTo(LocalTime.of(9, 20));
        LateCard.Choice now = card.choices().get(0);
        LateCard.Choice afterNext = card.choices().get(1);
        assertThat(now.turn()).isEqualTo(Turn.NOW);
        assertThat(now.starts()).isBetween(LocalTime.of(9, 20), LocalTime.of(9, 25));
        assertThat(afterNext.starts()).isAfter(LocalTime.of(9, 40));
    }

    /** Somebody who is missed already does not lose a minute to one who is still on the way. */
    @Test
    void one_on_the_way_does_not_go_before_one_who_is_only_missed() {
        clock.set(at("09:20"));
        assertThat(running.willBeLate(clinic.id(), second, 20)).isInstanceOf(BookingResult.Done.class);
        LateCard card = cards.ofLate(clinic.id(), second).orElseThrow();
        assertThat(card.choices().get(0).delays())
                .extracting(LateCard.Delay::initials)
                .doesNotContain("P.A.");
    }

    @Test
    void one_on_the_way_is_given_a_turn() throws Exception {
        clock.set(at("08:50"));
        press(first, "will-be-late?minutes=20", desk);
        press(first, "turn?turn=after_next", desk).andExpect(redirectedUrl("/day/" + DAY));
        assertThat(line(first).turn()).isAfter(LocalTime.of(9, 30)).isBefore(LocalTime.of(10, 0));
        press(second, "turn?turn=after_next", desk).andExpect(status().isConflict());
    }

    @Test
    void a_move_makes_an_announced_delay_void() {
        Appointment late = appointments.findById(first).orElseThrow();
        late.expectLate(at("09:20"));
        late.takeTurn(at("09:40"));
        late.moveTo(late.place(), null, null);
        assertThat(late.comesAt()).isEmpty();
        assertThat(late.turn()).isEqualTo(late.place().start());
    }

    /** Who was given the turn after the next is not shown as the next one while that one can still come. */
    @Test
    void after_the_next_waits_for_the_next() throws Exception {
        happens(first, ClockEvent.ARRIVED, "09:20");
        clock.set(at("09:21"));
        press(first, "turn?turn=after_next", desk).andExpect(status().is3xxRedirection());
        assertThat(next("09:22")).isEqualTo(second);
        assertThat(next("09:31")).isEqualTo(first);
        happens(second, ClockEvent.ARRIVED, "09:32");
        assertThat(next("09:33")).isEqualTo(second);
    }

    @Test
    void the_pace_is_the_delay_of_the_next_who_is_in_time() {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        happens(second, ClockEvent.ARRIVED, "09:25");
        clock.set(at("09:50"));
        Pace pace = lane().pace(LocalTime.of(9, 50)).orElseThrow();
        assertThat(pace.behind().id()).isEqualTo(second);
        assertThat(pace.behindMinutes()).isGreaterThan(19);
        assertThat(pace.last().id()).isEqualTo(third);
        assertThat(pace.planned()).isEqualTo(LocalTime.of(17, 0));
    }

    @Test
    void an_undone_press_leaves_the_visit_to_be_learnt_from() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "08:58");
        clock.set(at("08:59"));
        press(first, "undo-press", chair).andExpect(redirectedUrl("/day/" + DAY));
        assertThat(appointment(first).status()).isEqualTo(AppointmentStatus.CHECKED_IN);
        assertThat(appointment(first).times()).isEqualTo(new VisitTimes(at("08:55"), null, null, null));
        happens(first, ClockEvent.CALLED_IN, "09:01");
        happens(first, ClockEvent.FINISHED, "09:10");
        clock.set(at("09:11"));
        assertThat(referral(first)).isEqualTo(ReferralStatus.CLOSED);
        press(first, "undo-press", chair).andExpect(status().is3xxRedirection());
        assertThat(referral(first)).isEqualTo(ReferralStatus.BOOKED);
        happens(first, ClockEvent.FINISHED, "09:20");
        var visit = visits.findById(appointment(first).visitId().orElseThrow()).orElseThrow();
        assertThat(visit.timesEnteredLater()).isFalse();
        assertThat(visit.times()).isEqualTo(new VisitTimes(at("08:55"), at("09:01"), at("09:20"), null));
    }

    @Test
    void a_press_can_be_undone_for_two_minutes() throws Exception {
        happens(first, ClockEvent.CALLED_IN, "09:00");
        clock.set(at("09:03"));
        press(first, "undo-press", chair).andExpect(status().isConflict());
        assertThat(appointment(first).times().calledIn()).isEqualTo(at("09:00"));
        press(first, "undo-press", desk).andExpect(status().isForbidden());
        Document refused = Jsoup.parse(press(first, "undo-check-in", desk)
                .andExpect(status().isConflict())
                .andReturn()
                .getResponse()
                .getContentAsString());
        assertThat(refused.select("#visit-" + first + " .refused-here").text()).isNotBlank();
        assertThat(refused.select(".refused-here")).as("in that row only").hasSize(1);
    }

    @Test
    void reception_undoes_a_check_in_however_late() throws Exception {
        clock.set(at("08:50"));
        press(first, "check-in?nothingNew=yes", desk).andExpect(status().is3xxRedirection());
        assertThat(appointment(first).redFlagsAskedAt()).isPresent();
        assertThat(day().select("#undo-bar form[action=/appointments/" + first + "/undo-check-in]"))
                .hasSize(1);
        clock.set(at("08:51"));
        assertThat(day().select("#undo-bar")).isEmpty();
        assertThat(day().select("#more-" + first + " form[action$=/undo-check-in]"))
                .hasSize(1);
        press(first, "undo-check-in", desk).andExpect(redirectedUrl("/day/" + DAY));
        assertThat(appointment(first).status()).isEqualTo(AppointmentStatus.BOOKED);
        assertThat(appointment(first).redFlagsAskedAt()).isEmpty();
        assertThat(appointment(first).times()).isEqualTo(VisitTimes.NONE);
    }

    @Test
    void a_walk_in_is_found_by_name_and_chosen_where_several_are_alike() throws Exception {
        clock.set(at("09:22"));
        Patient oak = fixture.patient(clinic, "Oakfield", "Tessaly");
        Patient other = fixture.patient(clinic, "Oakfield", "Brisell");
        fixture.referral(clinic, oak, DiaryFixture.details(Method.MICROSUCTION, Ears.RIGHT, null, null, null));
        Document who = fitIn("oakf");
        assertThat(who.select(".hits button[name=fitInPatient]").eachAttr("value"))
                .containsExactlyInAnyOrder(oak.localNumber(), other.localNumber());
        assertThat(who.select("input[name=fitInReason]").attr("value")).isEqualTo("hearing aid blocked");
        Document card = fitIn("tess oakf");
        assertThat(card.select("#fit-in .running-who").text()).contains("Oakfield, Tessaly", oak.localNumber());
        assertThat(card.select("input[name=fitInPatient]").attr("value")).isEqualTo(oak.localNumber());
        assertThat(fitIn("nobody at all").select(".problem").text()).contains("a patient of this clinic");
    }

    private Document fitIn(String who) throws Exception {
        return Jsoup.parse(mvc.perform(post("/day/" + DAY + "/fit-in/card")
                        .param("fitInPatient", who)
                        .param("fitInReason", "hearing aid blocked")
                        .param("fitInSession", lane().sessions().get(0).held().key())
                        .with(csrf())
                        .with(desk))
                .andReturn()
                .getResponse()
                .getContentAsString());
    }

    private UUID next(String time) {
        clock.set(at(time));
        return lane().next(LocalTime.parse(time)).orElseThrow().id();
    }

    private org.earslot.day.DaySchedule.Lane lane() {
        return schedules.of(clinic.id(), DAY).lane(clinic.p1()).orElseThrow();
    }

    private Line line(UUID id) {
        return lane().lines().stream()
                .filter(each -> each.id().equals(id))
                .findFirst()
                .orElseThrow();
    }

    private ReferralStatus referral(UUID id) {
        return referrals
                .findByClinicIdAndId(clinic.id(), appointment(id).referralId().orElseThrow())
                .orElseThrow()
                .status();
    }

    private Document day() throws Exception {
        return document("/day/" + DAY);
    }

    private Document document(String address) throws Exception {
        return Jsoup.parse(mvc.perform(get(address).with(desk))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString());
    }

    private ResultActions press(UUID id, String what, RequestPostProcessor who) throws Exception {
        String joined = what.contains("?") ? "&" : "?";
        return mvc.perform(post("/appointments/" + id + "/" + what + joined + "back=day")
                .with(csrf())
                .with(who));
    }

    private void happens(UUID id, ClockEvent event, String time) {
        clock.set(at(time));
        assertThat(running.record(clinic.id(), id, event)).isInstanceOf(BookingResult.Done.class);
    }

    private UUID named(String family, String start) {
        Patient patient = fixture.patient(clinic, family, "Pat");
        return fixture.appointment(
                clinic,
                fixture.referral(
                        clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null)),
                fixture.place(clinic, DAY.atTime(LocalTime.parse(start)), 30));
    }

    private Appointment appointment(UUID id) {
        return appointments.findById(id).orElseThrow();
    }

    private static Instant at(String time) {
        return Instant.parse(DAY + "T" + time + ":00Z");
    }
}
