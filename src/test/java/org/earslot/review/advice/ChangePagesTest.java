package org.earslot.review.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.flash;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.List;
import org.assertj.core.data.Offset;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotPolicy;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.Fits;
import org.earslot.estimate.VisitPlan;
import org.earslot.review.Reviews;
import org.earslot.review.VisitRows;
import org.earslot.review.figures.HeadLine;
import org.earslot.review.figures.Scope;
import org.earslot.review.figures.Share;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class ChangePagesTest {

    private static final YearMonth FEBRUARY = YearMonth.of(2026, 2);
    private static final SlotKind ONE_EAR = new SlotKind(Method.MICROSUCTION, false);
    private static final String BEFORE = "0.25|";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private JdbcClient database;

    @Autowired
    private SettableClock clock;

    @Autowired
    private MonthChanges changes;

    @Autowired
    private Reviews reviews;

    @Autowired
    private Fits fits;

    @Autowired
    private SlotPolicy policy;

    @Autowired
    private Estimates estimates;

    private TestClinic clinic;
    private VisitRows rows;

    /**
     * Twenty days of four visits in slots of 40, 25 minutes in room and 20 to make it ready, where the policy counts on 4:
     * waits of 0, 5, 10 and 15 a day.
     */
    @BeforeEach
    void a_month_of_slots_that_are_too_short() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
        rows = new VisitRows(database, clinic.id());
        for (int day = 0; day < 28; day++) {
            LocalDate date = FEBRUARY.atDay(day + 1);
            if (date.getDayOfWeek().getValue() <= 5) {
                rows.add(clinic.p1(), date, "09:00", 40, "09:00", "09:25", "09:45");
                rows.add(clinic.p1(), date, "09:40", 40, "09:45", "10:10", "10:30");
                rows.add(clinic.p1(), date, "10:20", 40, "10:30", "10:55", "11:15");
                rows.add(clinic.p1(), date, "11:00", 40, "11:15", "11:40", "12:00");
            }
        }
        fits.fit(clinic.id());
    }

    private RequestPostProcessor lead() {
        return SignedIn.lead(clinic.id());
    }

    private int slot() {
        return estimates
                .estimate(clinic.id(), VisitPlan.of(Method.MICROSUCTION, Ears.RIGHT))
                .slotMinutes();
    }

    @Test
    void replays_a_stored_month_without_change_to_the_minute() {
        rows.addFitIn(clinic.p1(), FEBRUARY.atDay(3), "12:05", "12:20", "12:25");
        rows.addAttendance(clinic.p1(), FEBRUARY.atDay(3), "12:20", Attendance.DID_NOT_ATTEND);
        rows.add(clinic.p2(), FEBRUARY.atDay(3), "16:20", 40, "16:28", "17:10", "17:14");
        rows.add(clinic.p2(), FEBRUARY.atDay(3), "12:40", 20, "12:31", "13:05", "13:09");
        ReplayEffect.Run run = changes.replay(clinic.id(), FEBRUARY).asItWas();
        HeadLine head = reviews.of(clinic.id(), FEBRUARY, Scope.EVERYONE).head();
        // The fit-in, of whom no arrival is known, is taken to have come when called in.
        assertThat(run.waits()).isEqualTo(head.calledInLate().of() + 1);
        assertThat(run.waitMinutes())
                .isCloseTo(head.meanWait() * head.calledInLate().of(), Offset.offset(1e-9))
                .isEqualTo(20 * 30 + 8);
        assertThat(run.late()).isEqualTo(head.calledInLate().count());
        assertThat(run.overtimeMinutes()).isEqualTo(head.sessions().overtime()).isEqualTo(14);
        assertThat(run.idleMinutes()).isEqualTo(head.sessions().idle());
    }

    @Test
    void advises_a_longer_slot_with_its_effect_on_the_month() throws Exception {
        WhatToChange told = changes.after(clinic.id(), FEBRUARY);
        assertThat(told.slots()).hasSize(1);
        SlotLine line = told.slots().get(0);
        assertThat(line.kind()).isEqualTo("microsuction-one");
        assertThat(line.longer()).isEqualTo(new Share(80, 80));
        assertThat(line.slot()).isEqualTo(slot());
        assertThat(line.verdict()).isEqualTo(SlotAdvice.Verdict.TOO_SHORT);
        // 45 is the shortest slot on the grid that holds them.
        assertThat(line.advised()).isEqualTo(45);
        assertThat(line.effect().now().waitMinutes()).isEqualTo(600);
        assertThat(line.effect().then().waitMinutes()).isZero();
        assertThat(line.effect().visits()).isEqualTo(80);
        mvc.perform(get("/review/2026-02").with(lead()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("too short: 45 min advised instead of " + slot())))
                .andExpect(content().string(containsString("600 to 0")))
                .andExpect(content().string(containsString("Which questions to ask")))
                .andExpect(content().string(not(containsString("??"))));
        mvc.perform(get("/review/2026-02/owner").with(lead()))
                .andExpect(content().string(containsString("600 min less waiting")))
                .andExpect(content().string(not(containsString("??"))));
    }

    @Test
    void gives_the_tables_as_files_and_numbers() throws Exception {
        mvc.perform(get("/review/2026-02/change/slots.csv").with(lead()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("microsuction,one,80,80,1.0,")))
                .andExpect(content().string(containsString("too_short")));
        for (String table : new String[] {"no-longer-fit", "questions", "referrers"}) {
            mvc.perform(get("/review/2026-02/change/" + table + ".csv").with(lead()))
                    .andExpect(status().isOk());
        }
        mvc.perform(get("/review/2026-02/change/nothing.csv").with(lead())).andExpect(status().isNotFound());
        mvc.perform(get("/api/v1/reviews/2026-02/change").with(SignedIn.program(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.slots[0].verdict").value("too_short"))
                .andExpect(jsonPath("$.slots[0].advised").value(45))
                .andExpect(jsonPath("$.slots[0].effect.now.waitMinutes").value(600))
                .andExpect(jsonPath("$.slots[0].effect.patients").exists())
                .andExpect(jsonPath("$.questions.visits").value(80))
                .andExpect(jsonPath("$.inForce").doesNotExist());
    }

    @Test
    void applies_with_one_press_and_takes_it_back() throws Exception {
        int before = slot();
        int beyond = changes.after(clinic.id(), FEBRUARY).slots().get(0).beyondAdvised();
        mvc.perform(post("/review/2026-02/change/apply")
                        .with(lead())
                        .with(csrf())
                        .param("before", BEFORE)
                        .param("kind", "microsuction-one")
                        .param("minutes", String.valueOf(beyond)))
                .andExpect(redirectedUrl("/review/2026-02"))
                .andExpect(flash().attribute("notice", containsString("Applied")));
        assertThat(slot()).isEqualTo(45).isEqualTo(before + beyond);
        WhatToChange after = changes.after(clinic.id(), FEBRUARY);
        assertThat(after.advised()).isEmpty();
        assertThat(after.slots().get(0).beyond()).isEqualTo(beyond);
        assertThat(audited("slots-changed")).isEqualTo(1);
        mvc.perform(get("/review/2026-02").with(lead()))
                .andExpect(content().string(containsString("Slots changed on 3 Mar 2026 09:00 by")))
                .andExpect(content().string(containsString("+" + beyond + " beyond the estimate")));
        var change = policy.undoable(clinic.id()).orElseThrow();
        mvc.perform(post("/review/2026-02/change/" + change.id() + "/undo")
                        .with(lead())
                        .with(csrf()))
                .andExpect(flash().attribute("notice", containsString("Undone")));
        assertThat(slot()).isEqualTo(before);
        assertThat(audited("slot-change-undone")).isEqualTo(1);
        mvc.perform(post("/review/2026-02/change/" + change.id() + "/undo")
                        .with(lead())
                        .with(csrf()))
                .andExpect(flash().attribute("notice", containsString("Not undone")));
    }

    private int audited(String action) {
        return database.sql("select count(*) from audit_entry where clinic_id = ? and action = ?")
                .params(clinic.id().value(), action)
                .query(Integer.class)
                .single();
    }

    @Test
    void changes_nothing_on_a_press_of_a_page_made_before_another_change() throws Exception {
        policy.apply(clinic.id(), policy.of(clinic.id()), policy.of(clinic.id()).accepting(0.4), "someone");
        mvc.perform(post("/review/2026-02/change/apply")
                        .with(lead())
                        .with(csrf())
                        .param("before", BEFORE)
                        .param("kind", "microsuction-one")
                        .param("minutes", "10"))
                .andExpect(flash().attribute("notice", containsString("Nothing was changed")));
        assertThat(policy.of(clinic.id()).adjustments().of(ONE_EAR)).isZero();
        mvc.perform(post("/review/2026-02/change/apply")
                        .with(lead())
                        .with(csrf())
                        .param("before", "0.4|")
                        .param("kind", "microsuction-one")
                        .param("minutes", "999"))
                .andExpect(status().is4xxClientError());
    }

    @Test
    void shows_another_accepted_share_on_the_month_before_it_is_applied() throws Exception {
        int before = slot();
        mvc.perform(get("/review/2026-02/change/try").with(lead()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("This is what applies now")))
                .andExpect(content().string(not(containsString("??"))));
        mvc.perform(get("/review/2026-02/change/try").with(lead()).param("percent", "5"))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("slots changed: 80")))
                .andExpect(content().string(containsString("600 to ")))
                .andExpect(content().string(not(containsString("makes slots shorter"))))
                .andExpect(content().string(not(containsString("??"))));
        mvc.perform(get("/review/2026-02/change/try").with(lead()).param("percent", "60"))
                .andExpect(content().string(containsString("makes slots shorter")));
        assertThat(slot()).isEqualTo(before);
        mvc.perform(get("/review/2026-02/change/try").with(lead()).param("percent", "x"))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("a whole number from 1 to 99")));
        mvc.perform(post("/review/2026-02/change/apply")
                        .with(lead())
                        .with(csrf())
                        .param("before", BEFORE)
                        .param("percent", "5"))
                .andExpect(flash().attribute("notice", containsString("Applied")));
        assertThat(policy.of(clinic.id()).acceptedOverrunShare()).isEqualTo(0.05);
        assertThat(slot()).isGreaterThan(before);
    }

    @Test
    void says_how_long_turnaround_really_takes_and_adopts_it_with_one_press() throws Exception {
        TurnaroundLine line = changes.after(clinic.id(), FEBRUARY).turnarounds().get(0);
        assertThat(line.method()).isEqualTo(Method.MICROSUCTION);
        assertThat(line.found()).isEqualTo(20);
        assertThat(line.visits()).isEqualTo(80);
        assertThat(line.practitioners()).containsExactly(new TurnaroundLine.By("P1", 20, 80));
        assertThat(line.differs()).isTrue();
        mvc.perform(get("/review/2026-02").with(lead()))
                .andExpect(content().string(containsString("20.0 min found, the policy counts on 4.")))
                .andExpect(content().string(containsString("Count on 20 min")));
        MockHttpServletRequestBuilder adopt = post("/review/2026-02/change/turnaround")
                .param("method", "microsuction")
                .param("before", "4")
                .param("minutes", "20")
                .with(lead())
                .with(csrf());
        mvc.perform(adopt).andExpect(status().is3xxRedirection());
        assertThat(changes.after(clinic.id(), FEBRUARY).otherTurnarounds()).isEmpty();
        assertThat(audited("policy-settled")).isEqualTo(1);
        // A page made before that press changes nothing any more.
        mvc.perform(adopt).andExpect(flash().attribute("notice", containsString("Nothing was changed")));
    }

    @Test
    void says_nothing_of_a_turnaround_that_chance_explains() {
        assertThat(new TurnaroundLine(Method.IRRIGATION, 3, 4.2, 0.4, 29, List.of()).differs())
                .isFalse();
        assertThat(new TurnaroundLine(Method.IRRIGATION, 3, 4.2, 1.3, 30, List.of()).differs())
                .isFalse();
        assertThat(new TurnaroundLine(Method.IRRIGATION, 3, 3.4, 0.1, 900, List.of()).differs())
                .isFalse();
        assertThat(new TurnaroundLine(Method.IRRIGATION, 3, 4.2, 0.4, 30, List.of()).differs())
                .isTrue();
    }

    @Test
    void says_nothing_of_slots_before_the_first_fit() throws Exception {
        TestClinic fresh = clinics.open();
        new VisitRows(database, fresh.id()).add(fresh.p1(), FEBRUARY.atDay(3), "09:00", 40, "09:00", "09:20", "09:24");
        assertThat(changes.after(fresh.id(), FEBRUARY).slots()).isEmpty();
        mvc.perform(get("/review/2026-02").with(SignedIn.lead(fresh.id())))
                .andExpect(content().string(containsString("Nothing has been learnt from visits yet")))
                .andExpect(content().string(not(containsString("??"))));
    }

    /** Where none is needed. */
    private void countsOnTwentyMinutesOfTurnaround(TestClinic of) {
        database.sql("update policy set microsuction_turnaround_minutes = 20 where clinic_id = ?")
                .param(of.id().value())
                .update();
    }

    @Test
    void leaves_slots_long_where_outcomes_are_not_recorded() {
        TestClinic quick = clinics.open();
        VisitRows short5 = new VisitRows(database, quick.id());
        for (int day = 1; day <= 20; day++) {
            short5.add(quick.p1(), FEBRUARY.atDay(day), "09:00", 40, "09:00", "09:20", "09:20");
            short5.add(quick.p1(), FEBRUARY.atDay(day), "09:40", 40, "09:40", "10:00", "10:00");
        }
        countsOnTwentyMinutesOfTurnaround(quick);
        fits.fit(quick.id());
        SlotLine line = changes.after(quick.id(), FEBRUARY).slots().get(0);
        assertThat(line.verdict()).isEqualTo(SlotAdvice.Verdict.LEFT_LONG);
        assertThat(line.rose()).containsExactly("not_recorded");
        assertThat(line.hasAdvice()).isFalse();
    }

    @Test
    void advises_a_shorter_slot_where_outcomes_stayed_as_good_and_not_where_residual_wax_rose() {
        TestClinic quick = clinics.open();
        VisitRows short5 = new VisitRows(database, quick.id());
        for (int month = 0; month < 12; month++) {
            for (int day = 1; day <= 5; day++) {
                short5.add(quick.p1(), FEBRUARY.minusMonths(month).atDay(day), "09:00", 40, "09:00", "09:20", "09:20");
            }
        }
        countsOnTwentyMinutesOfTurnaround(quick);
        fits.fit(quick.id());
        outcomes(quick, "clear", LocalDate.of(2000, 1, 1));
        SlotLine line = changes.after(quick.id(), FEBRUARY).slots().get(0);
        assertThat(line.verdict()).isEqualTo(SlotAdvice.Verdict.TOO_LONG);
        assertThat(line.advised()).isLessThan(line.slot());
        outcomes(quick, "residual", LocalDate.of(2025, 11, 1));
        SlotLine rose = changes.after(quick.id(), FEBRUARY).slots().get(0);
        assertThat(rose.verdict()).isEqualTo(SlotAdvice.Verdict.LEFT_LONG);
        assertThat(rose.rose()).containsExactly("residual");
    }

    private void outcomes(TestClinic of, String outcome, LocalDate from) {
        database.sql("update visit set right_outcome = ? where clinic_id = ? and visit_date >= ?")
                .params(outcome, of.id().value(), from)
                .update();
    }

    @Test
    void shows_and_does_nothing_for_anyone_but_the_lead() throws Exception {
        RequestPostProcessor practitioner = SignedIn.practitioner(clinic.id(), clinic.p1());
        mvc.perform(get("/review/2026-02").with(practitioner))
                .andExpect(status().isOk())
                .andExpect(content().string(not(containsString("What to change"))));
        mvc.perform(get("/review/2026-02/change/slots.csv").with(practitioner)).andExpect(status().isForbidden());
        mvc.perform(post("/review/2026-02/change/apply")
                        .with(practitioner)
                        .with(csrf())
                        .param("before", BEFORE)
                        .param("percent", "50"))
                .andExpect(status().isForbidden());
        assertThat(policy.of(clinic.id()).acceptedOverrunShare()).isEqualTo(0.25);
    }

    @Test
    void says_that_a_month_before_the_latest_is_not_for_applying() throws Exception {
        rows.add(clinic.p1(), LocalDate.of(2026, 3, 2), "09:00", 40, "09:00", "09:40", "09:45");
        clock.set(Instant.parse("2026-04-02T09:00:00Z"));
        mvc.perform(get("/review/2026-02").with(lead()))
                .andExpect(content().string(containsString("follows from the latest month")))
                .andExpect(content().string(not(containsString(">Apply</button>"))));
    }
}
