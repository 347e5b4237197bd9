package org.earslot.review.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.closeTo;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.matchesPattern;
import static org.hamcrest.Matchers.not;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.setup.PolicySetUp;
import org.earslot.estimate.BookedEstimate;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.review.VisitRows;
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
import org.springframework.test.web.servlet.ResultActions;

/** Estimates against what came, the plan against what happened, and the days of change, on the page of a month. */
@PageTest
class EstimatedAndActualPageTest {

    private static final LogNormalMinutes MINUTES = new LogNormalMinutes(Math.log(20), 0.35);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private PolicySetUp policySetUp;

    @Autowired
    private Policies policies;

    @Autowired
    private JdbcClient database;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void a_clinic_whose_visits_of_december_and_february_carry_a_estimate() {
        clock.set(Instant.parse("2026-03-20T09:00:00Z"));
        clinic = clinics.open();
        String estimate = new BookedEstimate(
                        "test",
                        30,
                        MINUTES.mean(),
                        MINUTES.standardDeviation(),
                        BookedEstimate.quantiles(MINUTES),
                        BookedEstimate.quantiles(MINUTES),
                        0.1)
                .text();
        VisitRows rows = new VisitRows(database, clinic.id()).estimating(estimate);
        for (LocalDate first : new LocalDate[] {LocalDate.of(2025, 12, 1), LocalDate.of(2026, 2, 2)}) {
            for (int day = 0; day < 10; day++) {
                for (int hour = 9; hour < 13; hour++) {
                    // 20, 22, 24 and 26 minutes: all beyond the half, none beyond the 80 % point of 26.9.
                    LocalTime start = LocalTime.of(hour, 0);
                    String out = start.plusMinutes(20 + 2 * (hour - 9)).toString();
                    rows.add(clinic.p1(), first.plusDays(day), start.toString(), 30, start.toString(), out, out);
                }
            }
        }
    }

    @Test
    void reads_overruns_against_the_chances_stored_at_booking() throws Exception {
        // R 4.2.2: 1 - plnorm(26, log(20), 0.35), with 4 of the slot's 30 minutes turnaround; kept quantiles are
        // rounded.
        mvc.perform(get("/api/v1/reviews/2026-02").with(SignedIn.program(clinic.id())))
                .andExpect(jsonPath("$.head.plannedAtBooking").value(40))
                .andExpect(jsonPath("$.head.plannedOverruns").value(closeTo(0.2267442, 0.002)))
                .andExpect(jsonPath("$.head.beyondPlan.verdict").value("less"))
                .andExpect(jsonPath("$.head.overruns.count").value(0));
        page().andExpect(content().string(containsString("23 % planned: clearly fewer")))
                .andExpect(content().string(containsString("too few days to compare with January")));
    }

    @Test
    void shows_estimates_month_by_month_quarter_by_quarter_and_by_tenths() throws Exception {
        page().andExpect(content().string(containsString("All visits, month by month")))
                .andExpect(content().string(containsString("Dec 2025")))
                .andExpect(content().string(containsString("Where visits ended in the range estimated")))
                .andExpect(content().string(not(containsString("??"))))
                .andExpect(content().string(not(matchesPattern("(?s).*review\\.(?!js)[a-z].*"))));
        mvc.perform(get("/api/v1/reviews/2026-02").with(SignedIn.program(clinic.id())))
                .andExpect(jsonPath("$.overTime.months.length()").value(2))
                .andExpect(jsonPath("$.overTime.months[0].first").value("2025-12"))
                // 20 minutes are the estimated half: a quarter of the visits is out by then, all by four in five.
                .andExpect(jsonPath("$.overTime.months[0].kept[0].share").value(0.25))
                .andExpect(jsonPath("$.overTime.months[0].kept[1].share").value(1.0))
                .andExpect(jsonPath("$.overTime.quarters.length()").value(1))
                .andExpect(jsonPath("$.overTime.quarters[0].visits").value(80))
                .andExpect(jsonPath("$.overTime.year.visits[9]").value(0));
        assertThat(file("estimated-months")).contains("2025-12,2025-12,,,40,0,0.8,1.0,");
        assertThat(file("estimated-quarters")).contains("2025-12,2026-02,microsuction,right,80,0,");
        assertThat(file("tenths")).contains("10,0,80,0.0,");
        assertThat(file("reported")).startsWith("finding,reported,ears,found,share");
    }

    @Test
    void marks_the_days_on_which_the_policy_changed() throws Exception {
        clock.set(Instant.parse("2026-02-10T09:00:00Z"));
        PolicyTerms terms = policies.findById(clinic.id()).orElseThrow().terms();
        policySetUp.settle(clinic.id(), terms.withAcceptedOvertimeShare(0.1));
        clock.set(Instant.parse("2026-03-20T09:00:00Z"));
        page().andExpect(content().string(containsString("accepted sessions with overtime, %: 20 before, 10 since")))
                .andExpect(content().string(containsString("data-on=\"2026-02-10\"")));
        assertThat(file("milestones")).contains("2026-02-10,policy,acceptedOvertimeShare,0.2,0.1");
    }

    @Test
    void tells_how_long_referrals_wait_and_when_a_place_is_free() throws Exception {
        // Nothing is booked: the first place is today at the next start on the grid.
        page().andExpect(content().string(containsString("next free slot of 30 min now: 20 Mar 09:00, today")))
                .andExpect(content().string(containsString("no referral was given its first appointment")));
    }

    private ResultActions page() throws Exception {
        return mvc.perform(get("/review/2026-02").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isOk());
    }

    private String file(String table) throws Exception {
        return mvc.perform(get("/review/2026-02/" + table + ".csv").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString();
    }
}
