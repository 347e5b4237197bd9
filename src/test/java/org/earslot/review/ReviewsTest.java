package org.earslot.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.YearMonth;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.Optional;
import org.earslot.clinic.AgeRange;
import org.earslot.clinic.TimeSpan;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.review.figures.Dimension;
import org.earslot.review.figures.GroupLine;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.Scope;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.SignedIn;
import org.earslot.visit.ClockRecords;
import org.earslot.visit.Visit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** The figures of past months are those of the visits and of the set-up as they are now, on both databases. */
class ReviewsTest {

    private static final YearMonth JANUARY = YearMonth.of(2026, 1);

    private static final String HEADINGS = "visit_id,patient_ref,date,practitioner,room,attendance,method_planned,ears,"
            + "booked_start,slot_minutes,arrived,called_in,finished,room_ready\n";

    abstract static class Reading extends ReviewedClinic {

        @Autowired
        private Reviews reviews;

        @Autowired
        private MockMvc mvc;

        @BeforeEach
        void a_clinic_with_two_visits_in_january() throws Exception {
            clock.set(Instant.parse("2026-02-10T09:00:00Z"));
            clinic = clinics.open();
            send(line("V1", "2026-01-12", "09:00", "09:20") + line("V2", "2026-01-12", "09:30", "09:50"));
        }

        @Test
        void shows_a_time_corrected_in_a_past_month() {
            assertThat(january().head().overruns().count()).isZero();
            Visit visit = visits.findByClinicIdAndVisitRef(clinic.id(), "V1").orElseThrow();
            Instant calledIn = visit.calledIn().orElseThrow();
            visit.write(ClockRecords.corrected(calledIn, calledIn.plusSeconds(2400)));
            visits.save(visit);
            assertThat(january().head().overruns().count()).isEqualTo(1);
        }

        @Test
        void shows_lines_imported_into_and_moved_out_of_a_past_month() throws Exception {
            assertThat(january().head().visits()).isEqualTo(2);
            send(line("V3", "2026-01-13", "09:00", "09:20"));
            assertThat(january().head().visits()).isEqualTo(3);
            send(line("V3", "2025-12-12", "09:00", "09:20"));
            assertThat(january().head().visits()).isEqualTo(2);
            assertThat(reviews.of(clinic.id(), YearMonth.of(2025, 12), Scope.EVERYONE)
                            .head()
                            .visits())
                    .isEqualTo(1);
            assertThat(january().compared().get(0).visits()).isEqualTo(1);
        }

        @Test
        void shows_what_else_the_figures_rest_on_as_it_is_now() {
            assertThat(january().head().sessions().outside()).isZero();
            setUp.practitioner(
                    clinic.id(),
                    Optional.of(clinic.p1()),
                    "P1 again",
                    Ear.RIGHT,
                    EnumSet.allOf(Method.class),
                    AgeRange.ANY,
                    true);
            assertThat(january().where().get(Dimension.PRACTITIONER.ordinal()).lines())
                    .extracting(GroupLine::group)
                    .containsExactly("P1 again");
            sessionSetUp.close(clinic.id(), LocalDate.of(2026, 1, 12), clinic.p1(), "away");
            assertThat(january().head().sessions().outside()).isEqualTo(2);
            sessionSetUp.addExtra(
                    clinic.id(),
                    LocalDate.of(2026, 1, 12),
                    clinic.p1(),
                    clinic.r1(),
                    new TimeSpan(LocalTime.of(9, 0), LocalTime.of(9, 40)),
                    "was there after all");
            assertThat(january().head().sessions().overtime()).isPositive();
            setUp.rename(clinic.id(), "Test clinic", ZoneId.of("Europe/Helsinki"));
            assertThat(january().where().get(Dimension.HOUR.ordinal()).lines())
                    .extracting(GroupLine::pooled)
                    .isNotEmpty();
            assertThat(january().waits().costliest()).isEmpty();
            assertThat(january().head().sessions().outside()).isEqualTo(2);
        }

        @Test
        void tells_the_own_figures_of_each_apart() {
            assertThat(january().head().visits()).isEqualTo(2);
            assertThat(reviews.of(clinic.id(), JANUARY, new Scope(clinic.p2()))
                            .head()
                            .visits())
                    .isZero();
            assertThat(reviews.of(clinic.id(), JANUARY, new Scope(clinic.p1()))
                            .head()
                            .visits())
                    .isEqualTo(2);
        }

        private MonthReview january() {
            return reviews.of(clinic.id(), JANUARY, Scope.EVERYONE);
        }

        private void send(String lines) throws Exception {
            mvc.perform(post("/api/v1/visit-log?createNames=true&update=true")
                            .with(SignedIn.program(clinic.id()))
                            .contentType("text/csv")
                            .content(HEADINGS + lines))
                    .andExpect(status().isOk());
        }

        private static String line(String id, String date, String start, String finished) {
            return String.join(
                            ",",
                            id,
                            "K1",
                            date,
                            "P1",
                            "R1",
                            "attended",
                            "microsuction",
                            "right",
                            start,
                            "30",
                            "",
                            start,
                            finished,
                            finished)
                    + "\n";
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Reading {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Reading {}
}
