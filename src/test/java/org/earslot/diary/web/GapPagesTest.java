package org.earslot.diary.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.earslot.diary.Appointments;
import org.earslot.diary.Booking;
import org.earslot.diary.CancelledBy;
import org.earslot.diary.DiaryFixture;
import org.earslot.diary.Gaps;
import org.earslot.diary.Gaps.Fit;
import org.earslot.diary.RunningDay;
import org.earslot.ear.Answer;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.AskedCaution;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

@PageTest
class GapPagesTest {

    private static final Instant MORNING = Instant.parse("2026-03-03T09:00:00Z");
    private static final LocalDate FAR = LocalDate.of(2026, 3, 18);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture diary;

    @Autowired
    private Booking booking;

    @Autowired
    private RunningDay running;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Referrals referrals;

    @Autowired
    private Gaps gaps;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void opensAClinic() {
        clock.set(MORNING);
        clinic = clinics.open();
    }

    @AfterEach
    void leavesTheClockAsItWas() {
        clock.set(MORNING);
    }

    @Test
    void offers_a_cancelled_place_to_those_who_wait_and_books_it() throws Exception {
        Referral waits = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.NOT_KNOWN);
        UUID gap = cancelled(FAR);
        mvc.perform(get("/appointments/" + gap).with(SignedIn.receptionist(clinic.id())))
                .andExpect(content().string(containsString("Offer this gap")));
        mvc.perform(get("/appointments/" + gap + "/gap").with(SignedIn.receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString(waits.id().toString())))
                .andExpect(content().string(not(containsString("Ask first"))));
        Fit fit = gaps.fits(clinic.id(), gap).get(0);
        mvc.perform(post("/appointments")
                        .param("referral", fit.referral().id().toString())
                        .param(
                                "practitioner",
                                fit.offer().session().practitionerId().toString())
                        .param("room", fit.offer().session().roomId().toString())
                        .param("start", fit.offer().place().start().toString())
                        .param("slotMinutes", String.valueOf(fit.offer().slotMinutes()))
                        .with(SignedIn.receptionist(clinic.id()))
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        assertThat(referrals
                        .findByClinicIdAndId(clinic.id(), fit.referral().id())
                        .orElseThrow()
                        .status())
                .isEqualTo(ReferralStatus.BOOKED);
    }

    @Test
    void puts_the_urgent_first_and_leaves_out_whom_the_place_does_not_fit() {
        Referral routine = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        Referral urgent = waiting(Priority.URGENT, Method.MICROSUCTION, Answer.YES);
        Referral soon = waiting(Priority.SOON, Method.MICROSUCTION, Answer.YES);
        Referral forbidden = diary.referral(
                clinic, details(Priority.URGENT, Method.IRRIGATION, Answer.YES, null, Caution.PERFORATION));
        Referral softening =
                diary.referral(clinic, details(Priority.URGENT, Method.IRRIGATION, Answer.YES, FAR.plusDays(1)));
        List<UUID> fits = fits(cancelled(FAR));
        assertThat(fits).containsSubsequence(urgent.id(), soon.id(), routine.id());
        assertThat(fits).doesNotContain(forbidden.id(), softening.id());
    }

    @Test
    void asks_for_short_notice_only_where_it_is_short() {
        Referral cannot = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.NO);
        Referral can = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.YES);
        Referral perhaps = waiting(Priority.ROUTINE, Method.MICROSUCTION, Answer.NOT_KNOWN);
        UUID tomorrow = cancelled(DiaryFixture.WEDNESDAY);
        assertThat(fits(tomorrow)).containsSubsequence(can.id(), perhaps.id()).doesNotContain(cannot.id());
        assertThat(gaps.fits(clinic.id(), tomorrow))
                .filteredOn(fit -> fit.referral().id().equals(perhaps.id()))
                .allMatch(Fit::askNotice);
        assertThat(fits(cancelled(FAR))).contains(cannot.id());
    }

    @Test
    void offers_nothing_that_the_practitioner_does_not_hold_nor_what_is_over() {
        waiting(Priority.ROUTINE, Method.IRRIGATION, Answer.YES);
        UUID atP2 = diary.appointment(
                clinic,
                diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH),
                diary.secondPlace(clinic, FAR.atTime(10, 0), 30));
        booking.cancel(clinic.id(), atP2, 0, CancelledBy.PATIENT, "holiday");
        assertThat(gaps.fits(clinic.id(), atP2))
                .noneMatch(fit -> fit.referral().details().methodPlanned() == Method.IRRIGATION);
        UUID gone = cancelled(FAR);
        clock.set(Instant.parse("2026-03-18T18:00:00Z"));
        assertThat(gaps.fits(clinic.id(), gone)).isEmpty();
        assertThat(gaps.fits(clinics.open().id(), gone)).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({"2, closed", "3, ready_to_book", "0, ready_to_book", "1, closed"})
    void closes_a_referral_by_the_rule_for_visits_not_attended(String limit, String standing) throws Exception {
        mvc.perform(post("/setup/waiting-list")
                        .param("didNotAttendLimit", limit)
                        .param("shortNoticeDays", "2")
                        .with(SignedIn.lead(clinic.id()))
                        .with(csrf()))
                .andExpect(status().is3xxRedirection());
        Referral referral = diary.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        for (int missed = 0; missed < 2; missed++) {
            Referral again =
                    referrals.findByClinicIdAndId(clinic.id(), referral.id()).orElseThrow();
            if (again.status() == ReferralStatus.CLOSED) {
                break;
            }
            UUID id = diary.appointment(
                    clinic, again, diary.place(clinic, DiaryFixture.WEDNESDAY.atTime(10 + missed, 0), 30));
            clock.set(Instant.parse("2026-03-04T" + (10 + missed) + ":30:00Z"));
            running.didNotAttend(clinic.id(), id, null);
        }
        assertThat(referrals
                        .findByClinicIdAndId(clinic.id(), referral.id())
                        .orElseThrow()
                        .status()
                        .code())
                .isEqualTo(standing);
    }

    @ParameterizedTest
    @CsvSource({
        "didNotAttendLimit, 10",
        "didNotAttendLimit, -1",
        "didNotAttendLimit, ''",
        "shortNoticeDays, 29",
        "shortNoticeDays, two"
    })
    void refuses_rules_out_of_range(String field, String value) throws Exception {
        mvc.perform(post("/setup/waiting-list")
                        .param("didNotAttendLimit", field.equals("didNotAttendLimit") ? value : "2")
                        .param("shortNoticeDays", field.equals("shortNoticeDays") ? value : "2")
                        .with(SignedIn.lead(clinic.id()))
                        .with(csrf()))
                .andExpect(status().isBadRequest());
    }

    private List<UUID> fits(UUID gap) {
        return gaps.fits(clinic.id(), gap).stream()
                .map(fit -> fit.referral().id())
                .toList();
    }

    private UUID cancelled(LocalDate date) {
        UUID id = diary.appointment(clinic, date.atTime(10, 0), 45);
        booking.cancel(
                clinic.id(),
                id,
                appointments.findByClinicIdAndId(clinic.id(), id).orElseThrow().version(),
                CancelledBy.PATIENT,
                "holiday");
        return id;
    }

    private Referral waiting(Priority priority, Method method, Answer shortNotice) {
        return diary.referral(clinic, details(priority, method, shortNotice, null));
    }

    private static ReferralDetails details(
            Priority priority, Method method, Answer shortNotice, LocalDate notBefore, Caution... cautions) {
        return new ReferralDetails(
                null,
                LocalDate.of(2026, 2, 20),
                null,
                priority,
                Ears.LEFT,
                method,
                Answer.YES,
                5,
                notBefore,
                null,
                null,
                null,
                null,
                true,
                java.util.Arrays.stream(cautions)
                        .map(caution -> new AskedCaution(caution, null, null))
                        .toList(),
                Map.of(),
                Map.of(),
                Set.of(),
                Origin.REFERRAL,
                shortNotice);
    }
}
