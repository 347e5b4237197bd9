package org.earslot.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.flash;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.awaitility.Awaitility;
import org.earslot.clinic.SessionTemplates;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.ListCosts;
import org.earslot.clinic.policy.ListPolicy;
import org.earslot.clinic.policy.ListTerms;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.Scene;
import org.earslot.testing.Scene.Asker;
import org.earslot.testing.Scenes;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.BookedVisit;
import org.earslot.visit.ClockRecords;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

/** The lead sees what other terms would do before they hold, plans a session, and takes both back. */
class PlanPagesTest {

    abstract static class Planning {
        @Autowired
        private Scenes scenes;

        @Autowired
        private WeeklySessions weekly;

        @Autowired
        private Visits visits;

        @Autowired
        private ListPolicy policy;

        @Autowired
        private SessionTemplates templates;

        @Autowired
        private JdbcTemplate jdbc;

        private Scene scene;
        private TestClinic clinic;
        private UUID session;

        @BeforeEach
        void a_short_saturday() {
            scene = scenes.open();
            clinic = scene.clinic();
            session = weekly.save(new WeeklySession(
                            UUID.randomUUID(),
                            clinic.id(),
                            clinic.p1(),
                            clinic.r1(),
                            DayOfWeek.SATURDAY,
                            new TimeSpan(LocalTime.of(9, 0), LocalTime.of(10, 30)),
                            null,
                            LocalDate.of(2026, 1, 1)))
                    .id();
        }

        @Test
        void says_what_is_missing_where_the_log_has_too_few_visits() throws Exception {
            past(3);
            assertThat(finished("/plan?session=" + session))
                    .contains("needs at least 12 visits")
                    .contains("has 3");
        }

        @Test
        void draws_the_trade_off_from_the_own_visits_and_keeps_it() throws Exception {
            past(40);
            String page = finished("/plan?session=" + session);
            assertThat(page)
                    .contains("class=\"plan-picture\"")
                    .contains("Policy in force")
                    .contains("start times and order optimised")
                    .contains("as booked from offers")
                    .contains("From 40 of the clinic")
                    .doesNotContain("??");
            Integer kept = jdbc.queryForObject(
                    "select count(*) from trade_off_kept where clinic_id = ?",
                    Integer.class,
                    clinic.id().value());
            assertThat(kept).isEqualTo(1);
        }

        @Test
        void other_terms_are_seen_before_they_hold_then_applied_then_taken_back() throws Exception {
            past(40);
            finished("/plan?session=" + session);
            String terms = "&accepted=35&waitCost=1&idleCost=1&overtimeCost=1.5";
            assertThat(finished("/plan?session=" + session + terms))
                    .contains("now, then")
                    .contains("at 35 %")
                    .contains("Apply to the policy");
            assertThat(policy.of(clinic.id()).acceptedOvertimeShare()).isEqualTo(0.2);
            scene.lead()
                    .sendsForm(
                            "/plan/terms",
                            "session",
                            session.toString(),
                            "accepted",
                            "35",
                            "waitCost",
                            "2",
                            "idleCost",
                            "1",
                            "overtimeCost",
                            "2.5")
                    .andExpect(redirectedUrl("/plan?session=" + session));
            assertThat(policy.of(clinic.id())).isEqualTo(new ListTerms(0.35, new ListCosts(2, 1, 2.5)));
            Matcher undo = Pattern.compile("action=\"(/plan/terms/[0-9a-f-]+/undo)\"")
                    .matcher(page("/plan?session=" + session));
            assertThat(undo.find()).isTrue();
            scene.lead()
                    .sendsForm(undo.group(1))
                    .andExpect(flash().attribute("notice", containsString("the policy is as it was")));
            assertThat(policy.of(clinic.id())).isEqualTo(new ListTerms(0.2, ListCosts.STARTING));
            scene.lead().sendsForm(undo.group(1)).andExpect(flash().attribute("notice", containsString("Not undone")));
        }

        @Test
        void a_change_made_elsewhere_since_is_not_undone() {
            policy.apply(clinic.id(), new ListTerms(0.3, ListCosts.STARTING), "lead");
            UUID first = policy.undoable(clinic.id()).orElseThrow().id();
            policy.apply(clinic.id(), new ListTerms(0.4, ListCosts.STARTING), "lead");
            assertThat(policy.undo(clinic.id(), first)).isFalse();
            assertThat(policy.undo(scenes.open().clinicId(), first)).isFalse();
            assertThat(policy.of(clinic.id()).acceptedOvertimeShare()).isEqualTo(0.4);
        }

        @Test
        void plans_a_session_and_keeps_it_as_its_template() throws Exception {
            String mix = "&plan=yes&microsuction.one=6&irrigation.both=4";
            String page = finished("/plan?session=" + session + mix);
            Matcher fits = Pattern.compile("(\\d+) of 10 visits fit").matcher(page);
            assertThat(fits.find()).isTrue();
            int fit = Integer.parseInt(fits.group(1));
            assertThat(fit).isBetween(1, 9);
            assertThat(page).contains("Left out:");
            scene.lead()
                    .sendsForm(
                            "/plan/template",
                            "session",
                            session.toString(),
                            "microsuction.one",
                            "6",
                            "irrigation.both",
                            "4")
                    .andExpect(redirectedUrl("/plan?session=" + session));
            var template = templates.of(clinic.id(), session).orElseThrow();
            assertThat(template.places()).hasSize(fit);
            assertThat(template.places().get(0).start()).isEqualTo(LocalTime.of(9, 0));
            assertThat(page("/plan?session=" + session)).contains("Planned slots in use, by lead");
            assertThat(page("/day/2026-03-07"))
                    .contains("Planned slots still free:")
                    .contains("09:00");
            scene.lead()
                    .sendsForm("/plan/template/" + template.id() + "/withdraw")
                    .andExpect(status().is3xxRedirection());
            assertThat(templates.of(clinic.id(), session)).isEmpty();
        }

        @Test
        void bad_input_comes_back_with_what_is_allowed() throws Exception {
            scene.lead()
                    .reads("/plan?session=" + session + "&accepted=100&waitCost=-1&idleCost=x&overtimeCost=1")
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("value=\"-1\"")))
                    .andExpect(content().string(containsString("a whole number from 1 to 99")));
            scene.lead()
                    .reads("/plan?session=" + session + "&plan=yes&microsuction.one=999")
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("a whole number from 0 to 40")));
            scene.lead()
                    .reads("/plan?session=" + session + "&plan=yes")
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("1 to 40 visits together")));
            scene.lead().reads("/plan?session=" + UUID.randomUUID()).andExpect(status().isNotFound());
            scene.lead().sendsForm("/plan/terms", "accepted", "0").andExpect(status().isBadRequest());
            scene.lead()
                    .sendsForm("/plan/template/" + UUID.randomUUID() + "/withdraw")
                    .andExpect(status().isNotFound());
            for (Asker other : List.of(scene.receptionist(), scene.practitioner())) {
                other.reads("/plan").andExpect(status().isForbidden());
            }
        }

        private String finished(String path) {
            return Awaitility.await()
                    .atMost(Duration.ofMinutes(4))
                    .until(() -> page(path), page -> !page.contains("<progress"));
        }

        private String page(String path) throws Exception {
            String page = scene.lead().page(path);
            assertThat(page).doesNotContain("could not be worked out");
            return page;
        }

        private void past(int count) {
            for (int i = 0; i < count; i++) {
                LocalDate date = LocalDate.of(2026, 3, 2).minusDays(9L * (i % 38));
                Instant start = date.atTime(9, i % 50).toInstant(ZoneOffset.UTC);
                Visit visit = Visit.booked(new BookedVisit(
                        clinic.id(),
                        "V" + i,
                        "K" + i,
                        date,
                        clinic.p1(),
                        clinic.r1(),
                        Method.values()[i % 3],
                        i % 2 == 0 ? Ears.BOTH : Ears.LEFT,
                        Answer.YES,
                        Answer.NO,
                        Set.of(),
                        5,
                        "Self",
                        Map.of(),
                        start,
                        20,
                        false,
                        null,
                        null));
                visit.write(ClockRecords.seen(start, start.plus(Duration.ofMinutes(12 + i % 7))));
                visits.save(visit);
            }
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Planning {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Planning {}
}
