package org.earslot.review.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.Objects;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotPolicy;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.ear.Method;
import org.earslot.estimate.Fits;
import org.earslot.review.ReviewedClinic;
import org.earslot.review.VisitRows;
import org.earslot.review.figures.Share;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SignedIn;
import org.earslot.visit.ClockRecords;
import org.earslot.visit.Visit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.data.domain.Limit;
import org.springframework.test.web.servlet.MockMvc;

/** What to change after a month follows from visits, slots, fit and sessions as they are now, on both databases. */
class MonthChangesTest {

    private static final YearMonth FEBRUARY = YearMonth.of(2026, 2);
    private static final SlotKind ONE_EAR = new SlotKind(Method.MICROSUCTION, false);

    abstract static class Changing extends ReviewedClinic {

        @Autowired
        private MonthChanges changes;

        @Autowired
        private Fits fits;

        @Autowired
        private SlotPolicy policy;

        @Autowired
        private MockMvc mvc;

        private VisitRows rows;

        /** Slots of 40 minutes on twenty days, each visit 45 in all: all of them too short. */
        @BeforeEach
        void a_month_that_has_settled() {
            clock.set(Instant.parse("2026-03-10T09:00:00Z"));
            clinic = clinics.open();
            rows = new VisitRows(database, clinic.id());
            for (int day = 1; day <= 28; day++) {
                LocalDate date = FEBRUARY.atDay(day);
                if (date.getDayOfWeek().getValue() <= 5) {
                    rows.add(clinic.p1(), date, "09:00", 40, "09:00", "09:25", "09:45");
                    rows.add(clinic.p1(), date, "09:40", 40, "09:45", "10:10", "10:30");
                }
            }
            fits.fit(clinic.id());
        }

        @Test
        void advises_longer_slots_and_says_what_they_would_have_done() {
            assertThat(february().advised()).hasSize(1);
            assertThat(february().advised().get(0).effect()).isNotNull();
            assertThat(february()).isEqualTo(february());
        }

        @Test
        void shows_a_correction_of_any_month_of_evidence() {
            rows.add(clinic.p1(), LocalDate.of(2025, 3, 3), "09:00", 40, "09:00", "09:25", "09:45");
            assertThat(february().slots().get(0).longer()).isEqualTo(new Share(41, 41));
            // Times corrected later are no evidence of how long a visit takes.
            correct(LocalDate.of(2026, 2, 2));
            assertThat(february().slots().get(0).longer()).isEqualTo(new Share(40, 40));
            correct(LocalDate.of(2025, 3, 3));
            assertThat(february().slots().get(0).longer()).isEqualTo(new Share(39, 39));
        }

        private void correct(LocalDate date) {
            Visit visit =
                    visits.overAfter(clinic.id(), date, "", date, Limit.of(1)).get(0);
            Instant calledIn = visit.calledIn().orElseThrow();
            visit.write(ClockRecords.corrected(calledIn, calledIn.plusSeconds(300)));
            visits.save(visit);
        }

        @Test
        void shows_other_slots_and_another_accepted_share() {
            WhatToChange first = february();
            SlotTerms before = policy.of(clinic.id());
            SlotTerms longer = before.with(ONE_EAR, 10);
            assertThat(policy.apply(clinic.id(), before, longer, "lead")).isTrue();
            assertThat(february().slots().get(0).beyond()).isEqualTo(10);
            assertThat(february().inForce()).isEqualTo(longer);
            assertThat(policy.apply(clinic.id(), longer, longer.accepting(0.4), "lead"))
                    .isTrue();
            assertThat(february().acceptedOverruns()).isEqualTo(0.4);
            assertThat(policy.apply(clinic.id(), longer.accepting(0.4), before, "lead"))
                    .isTrue();
            assertThat(february()).isEqualTo(first);
        }

        @Test
        void shows_a_new_fit() {
            int slot = february().slots().get(0).slot();
            // Of a month after the reviewed one: nothing but the fit tells of them.
            for (int minute = 10; minute < 60; minute++) {
                rows.add(clinic.p1(), LocalDate.of(2026, 3, 4), "09:" + minute, 40, "10:00", "11:10", "11:15");
            }
            fits.fit(clinic.id());
            assertThat(february().slots().get(0).slot()).isGreaterThan(slot);
        }

        @Test
        void shows_sessions_as_they_are_now() {
            ReplayEffect before =
                    Objects.requireNonNull(february().advised().get(0).effect());
            sessionSetUp.close(clinic.id(), LocalDate.of(2026, 2, 2), clinic.p1(), "away");
            ReplayEffect after =
                    Objects.requireNonNull(february().advised().get(0).effect());
            assertThat(after.now().idleMinutes()).isLessThan(before.now().idleMinutes());
        }

        @Test
        void lets_the_page_of_a_large_month_follow_it_up() throws Exception {
            for (int i = 0; i < 1_000; i++) {
                rows.add(clinic.p2(), FEBRUARY.atDay(3), "09:00", 40, "09:00", "09:25", "09:45");
            }
            page("/review/2026-02", "hx-get=\"/review/2026-02/change\"", "Slots by kind of visit");
            page("/review/2026-02/owner", "hx-get=\"/review/2026-02/owner?whole=true\"", "45 min");
            page("/review/2026-02/owner?whole=true", "30 to 45 min", "hx-get");
            page("/review/2026-02/change", "Slots by kind of visit", "hx-get=\"/review");
        }

        private void page(String address, String shown, String missing) throws Exception {
            mvc.perform(get(address).with(SignedIn.lead(clinic.id())))
                    .andExpect(status().isOk())
                    .andExpect(content().string(containsString(shown)))
                    .andExpect(content().string(not(containsString(missing))))
                    .andExpect(content().string(not(containsString("??"))));
        }

        private WhatToChange february() {
            return changes.after(clinic.id(), FEBRUARY);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Changing {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Changing {}
}
