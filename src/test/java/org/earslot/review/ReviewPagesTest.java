package org.earslot.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.hamcrest.Matchers.nullValue;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import org.earslot.account.Role;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotAdjustments;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.clinic.setup.PolicySetUp;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@PageTest
class ReviewPagesTest {

    private static final LocalDate FEBRUARY = LocalDate.of(2026, 2, 2);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private JdbcClient database;

    @Autowired
    private SettableClock clock;

    @Autowired
    private Policies policies;

    @Autowired
    private PolicySetUp policySetUp;

    private TestClinic clinic;

    @BeforeEach
    void a_clinic_with_visits_in_february_and_march() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
        VisitRows rows = new VisitRows(database, clinic.id()).finding("hard");
        VisitRows byHand = new VisitRows(database, clinic.id()).finding("hard").by("manual_removal");
        for (int day = 0; day < 5; day++) {
            for (int hour = 9; hour < 12; hour++) {
                rows.add(
                        clinic.p1(),
                        FEBRUARY.plusDays(day),
                        "%02d:00".formatted(hour),
                        30,
                        "%02d:12".formatted(hour),
                        "%02d:32".formatted(hour),
                        "%02d:35".formatted(hour));
            }
            byHand.add(clinic.p2(), FEBRUARY.plusDays(day), "10:00", 30, "10:00", "10:20", "10:25");
        }
        rows.add(clinic.p1(), LocalDate.of(2026, 3, 2), "09:00", 30, "09:00", "09:20", "09:24");
    }

    @Test
    void leads_to_the_last_month_that_is_over() throws Exception {
        mvc.perform(get("/review").with(SignedIn.lead(clinic.id())))
                .andExpect(status().is3xxRedirection())
                .andExpect(redirectedUrl("/review/2026-02"));
    }

    @Test
    void shows_the_lead_the_whole_clinic() throws Exception {
        mvc.perform(get("/review/2026-02").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Review: February 2026")))
                // 15 of 20 are called in 12 minutes late; 5 of 20, the last of P1's days, end 5 minutes past the slot.
                .andExpect(content().string(containsString("15 of 20; likely between")))
                .andExpect(content().string(containsString("5 of 20; likely between")))
                .andExpect(content().string(containsString("Total waiting: 180 minutes")))
                .andExpect(content().string(containsString("By practitioner")))
                .andExpect(content().string(containsString("P2")))
                .andExpect(content().string(not(containsString("??"))));
    }

    @Test
    void shows_a_practitioner_the_own_figures_only() throws Exception {
        mvc.perform(get("/review/2026-02").with(SignedIn.practitioner(clinic.id(), clinic.p2())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("own figures")))
                .andExpect(content().string(containsString("0 of 5; likely between")))
                .andExpect(content().string(not(containsString(">P1<"))));
    }

    @Test
    void shows_nothing_to_receptionists_or_strangers() throws Exception {
        mvc.perform(get("/review/2026-02").with(SignedIn.receptionist(clinic.id())))
                .andExpect(status().isForbidden());
        mvc.perform(get("/review/2026-02/method.csv").with(SignedIn.receptionist(clinic.id())))
                .andExpect(status().isForbidden());
        mvc.perform(get("/review/2026-02"))
                .andExpect(status().is3xxRedirection())
                .andExpect(redirectedUrl("/sign-in"));
        mvc.perform(get("/api/v1/reviews/2026-02")).andExpect(status().isUnauthorized());
        mvc.perform(get("/api/v1/reviews/2026-02").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isForbidden());
    }

    @Test
    void says_so_where_an_account_belongs_to_no_practitioner() throws Exception {
        var account = SignedIn.as(SignedIn.person(clinic.id(), Role.PRACTITIONER, null));
        mvc.perform(get("/review").with(account))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("is not linked to a practitioner")));
        mvc.perform(get("/review/2026-02").with(account))
                .andExpect(status().isOk())
                .andExpect(content().string(not(containsString(">P1<"))));
    }

    @Test
    void shows_no_figure_of_another_clinic() throws Exception {
        TestClinic other = clinics.open();
        mvc.perform(get("/review").with(SignedIn.lead(other.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("No visits yet")));
        mvc.perform(get("/review/2026-02").with(SignedIn.lead(other.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("No visits are recorded in this month")));
    }

    @Test
    void puts_the_month_on_one_sheet_for_the_lead_alone() throws Exception {
        mvc.perform(get("/review/2026-02/owner").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("20 patients were seen")))
                .andExpect(
                        content().string(containsString("15 of 20 patients were called in more than 10 minutes late")))
                .andExpect(content().string(not(containsString("??"))));
        mvc.perform(get("/review/2026-02/owner").with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isForbidden());
    }

    @Test
    void gives_every_table_as_a_file() throws Exception {
        mvc.perform(get("/review/2026-02/method.csv").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(header().string("Content-Disposition", containsString("review-2026-02-method.csv")))
                .andExpect(content().contentTypeCompatibleWith("text/csv"))
                .andExpect(content().string(containsString("microsuction,,false,15,5,")));
        for (String table : new String[] {
            "head",
            "compared",
            "waits",
            "costliest",
            "indicators",
            "estimated",
            "ears",
            "wax",
            "practitioner",
            "weeks-wait"
        }) {
            mvc.perform(get("/review/2026-02/" + table + ".csv").with(SignedIn.lead(clinic.id())))
                    .andExpect(status().isOk());
        }
    }

    @Test
    void gives_programs_the_same_numbers() throws Exception {
        mvc.perform(get("/api/v1/reviews/2026-02").with(SignedIn.program(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.month").value("2026-02"))
                .andExpect(jsonPath("$.head.visits").value(20))
                .andExpect(jsonPath("$.head.overruns.count").value(5))
                .andExpect(jsonPath("$.head.overruns.share").value(0.25))
                .andExpect(jsonPath("$.head.calledInLate.count").value(15))
                .andExpect(jsonPath("$.head.meanWait").value(9.0))
                .andExpect(jsonPath("$.where[0].by").value("method"))
                .andExpect(jsonPath("$.waits.minutes").value(180.0))
                .andExpect(jsonPath("$.compared[0].calledInLate.verdict").value("not_known"))
                .andExpect(jsonPath("$.charts.overruns.points[0].week").value("2026-02-02"))
                .andExpect(jsonPath("$.charts.overruns.points[0].value").value(0.25))
                .andExpect(jsonPath("$.where[0].lines[0].group").value("microsuction"));
    }

    @Test
    void refuses_what_is_no_month_or_has_not_begun() throws Exception {
        for (String month : new String[] {"2026-13", "1890", "1890-01", "2026-04", "february", "2026-2"}) {
            mvc.perform(get("/review/" + month).with(SignedIn.lead(clinic.id())))
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("2000-01 to 2026-03")));
            mvc.perform(get("/api/v1/reviews/" + month).with(SignedIn.program(clinic.id())))
                    .andExpect(status().isBadRequest())
                    .andExpect(jsonPath("$.problems[0].field").value("month"));
        }
        mvc.perform(get("/review/2026-02/nothing.csv").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isNotFound());
    }

    @Test
    void keeps_a_closed_month_as_reported_and_shows_corrections_apart() throws Exception {
        close("2026-02", SignedIn.lead(clinic.id()))
                .andExpect(status().is3xxRedirection())
                .andExpect(redirectedUrl("/review/2026-02"));
        lead("/review/2026-02")
                .andExpect(content().string(containsString("Closed on 2026-03-03")))
                .andExpect(content().string(containsString("give the same figures")))
                .andExpect(content().string(containsString("15 of 20; likely between")))
                .andExpect(content().string(containsString("By practitioner")))
                .andExpect(content().string(not(containsString("Close this month"))))
                .andExpect(content().string(not(containsString("??"))));
        String before = file("/review/2026-02/method.csv");

        // One of P2's visits turns out not to have been one.
        database.sql(
                        "update visit set attendance = 'did_not_attend', called_in = null, finished = null, room_ready = null"
                                + " where id = (select min(id) from visit where clinic_id = ? and practitioner_id = ?)")
                .params(clinic.id().value(), clinic.p2())
                .update();

        lead("/review/2026-02")
                .andExpect(content().string(containsString("15 of 20; likely between")))
                .andExpect(content().string(containsString("Corrected since")))
                .andExpect(content().string(containsString(">19.0<")))
                .andExpect(content().string(not(containsString("??"))));
        assertThat(file("/review/2026-02/method.csv")).isEqualTo(before);
        mvc.perform(get("/api/v1/reviews/2026-02").with(SignedIn.program(clinic.id())))
                .andExpect(jsonPath("$.head.visits").value(20));
        mvc.perform(get("/review/2026-02").with(SignedIn.practitioner(clinic.id(), clinic.p2())))
                .andExpect(content().string(containsString("0 of 4; likely between")))
                .andExpect(content().string(not(containsString("Corrected since"))));
        close("2026-02", SignedIn.lead(clinic.id())).andExpect(redirectedUrl("/review/2026-02"));
        lead("/review/2026-02").andExpect(content().string(containsString("15 of 20; likely between")));
    }

    @Test
    void what_a_past_month_was_planned_by_stays_whatever_the_policy_becomes() throws Exception {
        PolicyTerms terms = policies.findById(clinic.id()).orElseThrow().terms();
        assertThat(policySetUp.settle(clinic.id(), terms.with(new SlotTerms(0.4, SlotAdjustments.NONE))))
                .isEmpty();
        planned("2026-02", 0.25);
        planned("2026-03", 0.4);
    }

    private void planned(String month, double share) throws Exception {
        mvc.perform(get("/api/v1/reviews/" + month).with(SignedIn.program(clinic.id())))
                .andExpect(jsonPath("$.head.plannedOverruns").value(share));
    }

    @Test
    void leads_with_six_figures_then_what_to_change_and_folds_every_table() throws Exception {
        Document page = Jsoup.parse(file("/review/2026-03"));
        assertThat(page.select(".six > div")).hasSize(6).allSatisfy(figure -> {
            assertThat(figure.select("dt").text()).isNotBlank();
            assertThat(figure.select(".trend .status, .trend .hint").text()).isNotBlank();
        });
        assertThat(page.select("main h2").eachText())
                .containsExactly(
                        "What to change", "Where the wait came from", "All the numbers", "What the words mean here");
        assertThat(page.select("table"))
                .hasSizeGreaterThan(9)
                .allSatisfy(table -> assertThat(table.closest("details:not([open])"))
                        .as(table.select("caption").text())
                        .isNotNull());
        // Two months are known, so there is a line from the one to the other.
        assertThat(page.selectFirst(".trend-line").attr("aria-label"))
                .isEqualTo("The last 2 months: lowest 0 %, highest 75 %");
        assertThat(Jsoup.parse(file("/review/2026-02")).select(".trend-line")).isEmpty();
        mvc.perform(get("/api/v1/reviews/2026-03").with(SignedIn.program(clinic.id())))
                .andExpect(jsonPath("$.trends[0].figure").value("late"))
                .andExpect(jsonPath("$.trends[0].months.length()").value(12))
                .andExpect(jsonPath("$.trends[0].months[9]").value(nullValue()))
                .andExpect(jsonPath("$.trends[0].months[10]").value(0.75))
                .andExpect(jsonPath("$.trends[0].months[11]").value(0.0));
    }

    @Test
    void closes_no_month_that_is_running_or_empty_nor_for_others_than_the_lead() throws Exception {
        close("2026-03", SignedIn.lead(clinic.id()))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("once it is over")));
        close("2025-01", SignedIn.lead(clinic.id())).andExpect(status().isConflict());
        close("2026-02", SignedIn.practitioner(clinic.id(), clinic.p1())).andExpect(status().isForbidden());
        lead("/review/2026-02").andExpect(content().string(containsString("Close this month")));
        close("2026-02", SignedIn.lead(clinics.open().id())).andExpect(status().isConflict());
        lead("/review/2026-02").andExpect(content().string(containsString("Close this month")));
    }

    private ResultActions close(String month, RequestPostProcessor who) throws Exception {
        return mvc.perform(post("/review/" + month + "/close").with(who).with(csrf()));
    }

    private ResultActions lead(String path) throws Exception {
        return mvc.perform(get(path).with(SignedIn.lead(clinic.id()))).andExpect(status().isOk());
    }

    private String file(String path) throws Exception {
        return lead(path).andReturn().getResponse().getContentAsString();
    }
}
