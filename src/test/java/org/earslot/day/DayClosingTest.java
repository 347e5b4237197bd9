package org.earslot.day;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.testing.SignedIn.lead;
import static org.earslot.testing.SignedIn.practitioner;
import static org.earslot.testing.SignedIn.receptionist;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.matchesPattern;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import net.javacrumbs.shedlock.core.SimpleLock;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.OtherServer;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visit;
import org.earslot.visit.VisitTimes;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.transaction.PlatformTransactionManager;

/** Times can be corrected until the day is closed, and not after. */
@PageTest
class DayClosingTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private JdbcTemplate jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    @Autowired
    private DayClosing closing;

    @Autowired
    private NightlyClosing nightly;

    @Autowired
    private RunningDay running;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Referrals referrals;

    @Autowired
    private Visits visits;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private UUID id;
    private UUID referral;

    @BeforeEach
    void a_visit_in_the_room() {
        clock.set(at("09:00"));
        clinic = clinics.open();
        Referral asked = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        referral = asked.id();
        id = fixture.appointment(clinic, asked, fixture.place(clinic, DAY.atTime(10, 0), 30));
        clock.set(at("10:02"));
        running.record(clinic.id(), id, ClockEvent.CALLED_IN);
    }

    @Test
    void a_finished_time_is_removed_in_the_diary_the_log_and_the_referral() {
        finish("10:20");
        assertThat(referrals.findById(referral).orElseThrow().status()).isEqualTo(ReferralStatus.CLOSED);
        assertThat(correct(new VisitTimes(null, at("10:02"), null, null))).isInstanceOf(Done.class);
        assertThat(referrals.findById(referral).orElseThrow().status()).isEqualTo(ReferralStatus.BOOKED);
        assertThat(visit().finished()).isEmpty();
        assertThat(visit().attendance()).isEmpty();
        assertThat(visit().timesEnteredLater()).isTrue();
        finish("10:31");
        assertThat(visit().finished()).contains(at("10:31"));
        assertThat(visit().wasSeen()).isTrue();
        assertThat(visit().timesEnteredLater()).isTrue();
    }

    @Test
    void a_person_closes_the_day_when_nobody_is_in_the_room() {
        assertThat(close(DAY, 1)).contains(BookingRefusal.visitsUnfinished(1));
        assertThat(close(DAY.plusDays(1), 0)).contains(BookingRefusal.dayNotOver(DAY.plusDays(1)));
        finish("10:20");
        assertThat(close(DAY, 0)).isEmpty();
        assertThat(close(DAY, 0)).contains(BookingRefusal.dayClosed(DAY));
        assertThat(correct(new VisitTimes(null, at("10:02"), at("10:19"), null)))
                .isEqualTo(BookingResult.refused(BookingRefusal.dayClosed(DAY)));
        assertThat(visit().finished()).contains(at("10:20"));
    }

    @Test
    void a_running_day_is_closed_only_after_its_last_session_and_with_the_open_visits_confirmed() {
        UUID waiting = fixture.appointment(clinic, DAY.atTime(11, 0), 30);
        fixture.appointment(clinic, DAY.atTime(16, 0), 30);
        finish("10:20");
        running.record(clinic.id(), waiting, ClockEvent.ARRIVED);
        assertThat(close(DAY, 2)).contains(BookingRefusal.visitsOpen(2));
        clock.set(at("17:00"));
        assertThat(closing.close(clinic.id(), DAY, Optional.empty()))
                .contains(BookingRefusal.openVisitsNotConfirmed(2));
        assertThat(close(DAY, 1)).contains(BookingRefusal.openVisitsNotConfirmed(2));
        assertThat(close(DAY, 2)).isEmpty();
    }

    @Test
    void the_page_names_what_is_open_with_links_and_asks_to_confirm_the_numbers() throws Exception {
        mvc.perform(get("/day/" + DAY).with(lead(clinic.id())))
                .andExpect(content().string(containsString("One visit is still open:")))
                .andExpect(content().string(containsString("href=\"/appointments/" + id + "\">10:00 P.T.")))
                .andExpect(content().string(containsString("can be closed after the last session, from 17:00")))
                .andExpect(content().string(not(containsString("/close\""))));
        mvc.perform(post("/day/" + DAY + "/close")
                        .param("openVisits", "1")
                        .with(csrf())
                        .with(lead(clinic.id())))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("One visit has begun and not finished.")))
                .andExpect(content().string(matchesPattern("(?s).*id=\"close\"(?:(?!</details>).)*refused-here.*")));
        finish("10:20");
        mvc.perform(get("/day/" + DAY).with(lead(clinic.id())))
                .andExpect(
                        content().string(containsString("Close with one visit seen, 0 not seen or cancelled and 0")));
        mvc.perform(post("/day/" + DAY + "/close").with(csrf()).with(lead(clinic.id())))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("No visit is still open. Confirm the numbers")));
    }

    @Test
    void the_screens_of_a_closed_day_say_so_and_offer_no_presses() throws Exception {
        fixture.appointment(clinic, DAY.atTime(16, 0), 30);
        finish("10:20");
        for (String page : List.of("/day/" + DAY, "/day/" + DAY + "/now")) {
            mvc.perform(get(page).with(practitioner(clinic.id(), clinic.p1())))
                    .andExpect(content().string(containsString("data-press")));
        }
        clock.set(at("17:10"));
        assertThat(close(DAY, 1)).isEmpty();
        for (String page : List.of("/day/" + DAY, "/day/" + DAY + "/now")) {
            mvc.perform(get(page).with(practitioner(clinic.id(), clinic.p1())))
                    .andExpect(content().string(containsString("This day is closed.")))
                    .andExpect(content().string(not(containsString("data-press"))));
        }
    }

    @Test
    void who_did_not_come_can_be_said_on_a_closed_day() {
        UUID missing = fixture.appointment(clinic, DAY.atTime(11, 0), 30);
        finish("10:20");
        clock.set(at("17:30"));
        assertThat(close(DAY, 1)).isEmpty();
        assertThat(running.didNotAttend(clinic.id(), missing, null)).isInstanceOf(Done.class);
        assertThat(running.record(clinic.id(), missing, ClockEvent.ARRIVED))
                .isEqualTo(BookingResult.refused(BookingRefusal.dayClosed(DAY)));
    }

    @Test
    void the_next_night_closes_the_day_and_no_other() {
        UUID tomorrow = fixture.appointment(clinic, DAY.plusDays(1).atTime(11, 0), 30);
        clock.set(at("23:59"));
        nightly.closeThoseOver();
        assertThat(correct(new VisitTimes(null, at("10:03"), null, null))).isInstanceOf(Done.class);
        clock.set(local(DAY.plusDays(1), "02:59"));
        nightly.closeThoseOver();
        assertThat(correct(new VisitTimes(null, at("10:04"), null, null))).isInstanceOf(Done.class);
        clock.set(local(DAY.plusDays(1), "03:00"));
        nightly.closeThoseOver();
        assertThat(correct(new VisitTimes(null, at("10:05"), null, null)))
                .isEqualTo(BookingResult.refused(BookingRefusal.dayClosed(DAY)));
        clock.set(local(DAY.plusDays(1), "11:00"));
        assertThat(running.record(clinic.id(), tomorrow, ClockEvent.ARRIVED)).isInstanceOf(Done.class);
    }

    @Test
    void the_night_is_left_to_the_server_that_closes_days() {
        clock.set(local(DAY.plusDays(1), "03:00"));
        SimpleLock other = new OtherServer(jdbc, transactions)
                .lock("day-closing", Duration.ofMinutes(1))
                .orElseThrow();
        nightly.closeThoseOver();
        assertThat(correct(new VisitTimes(null, at("10:03"), null, null))).isInstanceOf(Done.class);
        other.unlock();
        nightly.closeThoseOver();
        assertThat(correct(new VisitTimes(null, at("10:04"), null, null)))
                .isEqualTo(BookingResult.refused(BookingRefusal.dayClosed(DAY)));
    }

    @Test
    void the_page_closes_it_and_says_why_a_time_is_refused_afterwards() throws Exception {
        finish("10:20");
        mvc.perform(get("/day/" + DAY).with(practitioner(clinic.id(), clinic.p1())))
                .andExpect(content().string(containsString("/day/" + DAY + "/close")));
        mvc.perform(post("/day/" + DAY + "/close").with(csrf()).with(receptionist(clinic.id())))
                .andExpect(status().isForbidden());
        mvc.perform(post("/day/" + DAY + "/close")
                        .param("openVisits", "0")
                        .with(csrf())
                        .with(practitioner(clinic.id(), clinic.p1())))
                .andExpect(redirectedUrl("/day/" + DAY));
        mvc.perform(post("/appointments/" + id + "/times")
                        .param(
                                "version",
                                String.valueOf(
                                        appointments.findById(id).orElseThrow().version()))
                        .param("calledIn", "10:02")
                        .with(csrf())
                        .with(practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("is closed.")));
        mvc.perform(get("/day/" + DAY).with(practitioner(clinic.id(), clinic.p1())))
                .andExpect(content().string(containsString("This day is closed")));
    }

    @Test
    void the_lead_opens_a_closed_day_again_with_a_reason_until_the_next_night() throws Exception {
        finish("10:20");
        assertThat(close(DAY, 0)).isEmpty();
        clock.set(local(DAY.plusDays(3), "09:00"));
        mvc.perform(reopen("tablet was off").with(practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isForbidden());
        mvc.perform(reopen(" ").with(lead(clinic.id())))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("A reason is needed.")));
        mvc.perform(reopen("tablet was off").with(lead(clinic.id()))).andExpect(redirectedUrl("/day/" + DAY));
        mvc.perform(reopen("again").with(lead(clinic.id()))).andExpect(status().isConflict());
        mvc.perform(get("/audit").with(lead(clinic.id())))
                .andExpect(content().string(containsString("tablet was off")));

        nightly.closeThoseOver();
        assertThat(correct(new VisitTimes(null, at("10:02"), at("10:19"), null)))
                .isInstanceOf(Done.class);
        clock.set(local(DAY.plusDays(4), "03:00"));
        nightly.closeThoseOver();
        assertThat(correct(new VisitTimes(null, at("10:02"), at("10:18"), null)))
                .isEqualTo(BookingResult.refused(BookingRefusal.dayClosed(DAY)));
    }

    private Optional<BookingRefusal> close(LocalDate date, int openConfirmed) {
        return closing.close(clinic.id(), date, Optional.of(openConfirmed));
    }

    private static MockHttpServletRequestBuilder reopen(String reason) {
        return post("/day/" + DAY + "/reopen").param("reopenReason", reason).with(csrf());
    }

    private void finish(String time) {
        clock.set(at(time));
        assertThat(running.record(clinic.id(), id, ClockEvent.FINISHED)).isInstanceOf(Done.class);
    }

    private BookingResult correct(VisitTimes times) {
        return running.correct(
                clinic.id(), id, appointments.findById(id).orElseThrow().version(), times);
    }

    private Visit visit() {
        return visits.findById(appointments.findById(id).orElseThrow().visitId().orElseThrow())
                .orElseThrow();
    }

    private static Instant at(String time) {
        return local(DAY, time);
    }

    private static Instant local(LocalDate date, String time) {
        return date.atTime(LocalTime.parse(time))
                .atZone(ZoneId.of("Europe/London"))
                .toInstant();
    }
}
