package org.earslot.review.advice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.time.YearMonth;
import java.util.Map;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.ear.Attendance;
import org.earslot.ear.Method;
import org.earslot.estimate.BookedEstimate;
import org.earslot.estimate.Fits;
import org.earslot.minutes.FixedMinutes;
import org.earslot.review.VisitRows;
import org.earslot.review.figures.Share;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What the database says of a kind of visit and of the questions asked, on both databases. */
class KindVisitsTest {

    private static final LocalDate FIRST = LocalDate.of(2025, 4, 1);
    private static final LocalDate HALF = LocalDate.of(2025, 10, 1);
    private static final LocalDate LAST = LocalDate.of(2026, 3, 31);
    private static final PolicyTerms POLICY = new PolicyTerms(5, 0.25, 0.2, 10, 90, 15, 5, 3, 4, 5);
    private static final SlotKind ONE_EAR = new SlotKind(Method.MICROSUCTION, false);

    abstract static class Counting {

        @Autowired
        private TestClinics clinics;

        @Autowired
        private KindVisits kinds;

        @Autowired
        private ReferralQuestions questions;

        @Autowired
        private Fits fits;

        @Autowired
        private JdbcClient database;

        private TestClinic clinic;
        private VisitRows rows;

        @BeforeEach
        void a_clinic() {
            clinic = clinics.open();
            rows = new VisitRows(database, clinic.id());
        }

        private SlotEvidence latest() {
            PastSlots slots = new PastSlots(Map.of(ONE_EAR, new FixedMinutes(18)));
            return kinds.latest(clinic.id(), ONE_EAR, FIRST, LAST, slots, POLICY);
        }

        @Test
        void reads_the_visits_of_a_kind_with_the_slot_each_would_get() {
            rows.add(clinic.p1(), LAST, "09:00", 20, "09:00", "09:22", "09:26");
            // Nobody noted when the room was ready: the policy's 4 minutes stand for it.
            rows.add(clinic.p1(), LAST, "09:30", 20, "09:30", "09:50", null);
            rows.add(clinic.p1(), FIRST.minusDays(1), "09:00", 20, "09:00", "09:50", "09:55");
            rows.addFitIn(clinic.p1(), LAST, "10:00", "10:50", "10:55");
            rows.addAttendance(clinic.p1(), LAST, "11:00", Attendance.DID_NOT_ATTEND);
            new VisitRows(database, clinic.id())
                    .by("manual_removal")
                    .add(clinic.p1(), LAST, "12:00", 20, "12:00", "12:40", "12:44");
            // EstimatedAndActual: a quarter last longer than 30; with 4 of turnaround it needs 34.
            new VisitRows(database, clinic.id())
                    .estimating(new BookedEstimate(
                                    "v", 35, 25, 8, Map.of(0.5, 24.0, 0.75, 30.0), Map.of(0.5, 24.0, 0.75, 30.0), 0.1)
                            .text())
                    .add(clinic.p1(), FIRST, "09:00", 20, "09:00", "09:22", "09:26");
            assertThat(latest().taken())
                    .extracting(SlotEvidence.Taken::minutes)
                    .containsExactlyInAnyOrder(26.0, 24.0, 26.0);
            assertThat(latest().taken())
                    .extracting(one -> Math.round(one.needed() * 1e6) / 1e6)
                    .containsExactlyInAnyOrder(22.0, 22.0, 34.0);
            assertThat(latest().taken())
                    .extracting(SlotEvidence.Taken::cutForTime)
                    .containsOnly(false);
        }

        @Test
        void leaves_time_outside_out_and_marks_a_stop_for_time() {
            rows.add(clinic.p1(), LAST, "09:00", 20, "09:00", "09:42", "09:46");
            database.sql("update visit set outside_minutes = 15, stopped_early = 'time' where clinic_id = ?")
                    .param(clinic.id().value())
                    .update();
            assertThat(latest().taken()).singleElement().satisfies(one -> {
                assertThat(one.minutes()).isEqualTo(31);
                assertThat(one.cutForTime()).isTrue();
            });
        }

        @Test
        void counts_how_visits_came_out_in_either_half() {
            for (int day = 0; day < 4; day++) {
                rows.add(clinic.p1(), FIRST.plusDays(day), "09:00", 20, "09:00", "09:22", "09:26");
                rows.add(clinic.p1(), HALF.plusDays(day), "09:00", 20, "09:00", "09:22", "09:26");
            }
            set("right_outcome = 'clear', stopped_early = 'no'", FIRST);
            set(
                    "right_outcome = 'residual', stopped_early = 'comfort', right_adverse_events = 'bleed;pain', left_adverse_events = 'none'",
                    HALF.plusDays(2));
            PastOutcomes outcomes = kinds.outcomes(clinic.id(), ONE_EAR, FIRST, HALF, LAST);
            assertThat(outcomes.earlier())
                    .isEqualTo(new PastOutcomes.Half(new Share(0, 4), new Share(0, 4), new Share(0, 4)));
            assertThat(outcomes.later())
                    .isEqualTo(new PastOutcomes.Half(new Share(2, 4), new Share(2, 4), new Share(2, 4)));
        }

        private void set(String what, LocalDate from) {
            database.sql("update visit set " + what + " where clinic_id = ? and visit_date >= ?")
                    .params(clinic.id().value(), from)
                    .update();
        }

        @Test
        void adds_up_what_asking_would_have_saved_over_a_sample_of_the_visits_booked() {
            for (int day = 0; day < 70; day++) {
                boolean hard = day % 2 == 0;
                rows.finding(hard ? "hard" : "soft")
                        .add(
                                clinic.p1(),
                                LAST.minusDays(day),
                                "09:00",
                                20,
                                "09:00",
                                hard ? "09:4" + day % 5 : "09:1" + day % 5,
                                null);
            }
            fits.fit(clinic.id());
            rows.addAttendance(clinic.p1(), LAST, "11:00", Attendance.CANCELLED_BY_CLINIC);
            QuestionsAsked asked = questions.upTo(clinic.id(), YearMonth.from(LAST));
            assertThat(asked.visits()).isEqualTo(70);
            // Every second one, so that there are at most 60.
            assertThat(asked.sampled()).isEqualTo(35);
            assertThat(asked.lines()).extracting(QuestionLine::finding).contains("wax");
            QuestionLine wax = asked.lines().stream()
                    .filter(line -> line.finding().equals("wax"))
                    .findFirst()
                    .orElseThrow();
            assertThat(wax.notKnown()).isEqualTo(35);
            assertThat(wax.whoCanAnswer()).isEqualTo("referrer");
            assertThat(wax.minutesAll()).isCloseTo(70 * wax.minutesEach(), within(1e-9));
            set("right_wax_reported = 'hard'", FIRST);
            assertThat(questions.upTo(clinic.id(), YearMonth.from(LAST)).lines())
                    .extracting(QuestionLine::finding)
                    .doesNotContain("wax");
        }
    }

    @Nested
    @PageTest
    class WithH2 extends Counting {}

    @Nested
    @PageTestOnPostgres
    class WithPostgres extends Counting {}
}
