package org.earslot.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.YearMonth;
import java.util.List;
import java.util.Random;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.Scope;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.visit.Visit;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

/** Figures put together from stored days are those of a month read again, whatever was corrected, on both databases. */
class KeptDaysTest {

    private static final YearMonth FEBRUARY = YearMonth.of(2026, 2);
    private static final YearMonth MARCH = YearMonth.of(2026, 3);

    private static final String PROMISE = "{\"version\":\"1\",\"slotMinutes\":20,\"mean\":16.1,\"sd\":5.2,"
            + "\"completion\":{\"0.5\":15.2,\"0.8\":20.2,\"0.95\":27.3},"
            + "\"inRoom\":{\"0.5\":15.2,\"0.8\":20.2,\"0.95\":27.3},\"sharedSdLog\":0.1}";

    abstract static class Keeping extends KeptFigures {

        @Autowired
        private Reviews reviews;

        private final Random random = new Random(7);

        @BeforeEach
        void visits_from_february_to_the_middle_of_march() {
            clock.set(Instant.parse("2026-03-20T18:00:00Z"));
            clinic = clinics.open();
            VisitRows rows = new VisitRows(database, clinic.id());
            for (LocalDate day = FEBRUARY.atDay(1); day.isBefore(MARCH.atDay(20)); day = day.plusDays(1)) {
                LocalTime free = LocalTime.of(9, 0);
                for (int i = 0; i < random.nextInt(5); i++) {
                    LocalTime booked = LocalTime.of(9, 0).plusMinutes(20L * i);
                    LocalTime calledIn = (free.isAfter(booked) ? free : booked).plusMinutes(random.nextInt(4));
                    LocalTime out = calledIn.plusMinutes(8 + random.nextInt(20));
                    rows.by(random.nextBoolean() ? "microsuction" : "irrigation")
                            .finding(random.nextBoolean() ? "hard" : null)
                            .promising(random.nextBoolean() ? PROMISE : null)
                            .add(
                                    clinic.p1(),
                                    day,
                                    booked.toString(),
                                    20,
                                    calledIn.toString(),
                                    out.toString(),
                                    out.plusMinutes(3).toString());
                    free = out.plusMinutes(3);
                }
            }
        }

        @Test
        void agree_with_the_visits_after_every_correction() {
            asReadAnew(FEBRUARY);
            asReadAnew(MARCH);
            for (int round = 0; round < 6; round++) {
                correct(FEBRUARY.atDay(1 + random.nextInt(28)));
                correct(MARCH.atDay(1 + random.nextInt(19)));
                asReadAnew(FEBRUARY);
                asReadAnew(MARCH);
            }
            setUp.close(clinic.id(), LocalDate.of(2026, 2, 3), clinic.p1(), "away");
            asReadAnew(FEBRUARY);
        }

        @Test
        void are_those_that_have_settled_and_are_not_read_again() {
            int february = read(FEBRUARY).head().visits();
            int march = read(MARCH).head().visits();
            assertThat(kept()).hasSizeGreaterThan(40).last().isEqualTo(LocalDate.of(2026, 3, 16));
            // Nobody noted this: it proves that the days before are not read again.
            int gone = database.sql("delete from visit where clinic_id = ? and visit_date <= '2026-03-16'")
                    .param(clinic.id())
                    .update();
            assertThat(gone).isPositive().isLessThan(february + march);
            assertThat(read(MARCH).head().visits()).isEqualTo(march);
            database.sql("delete from month_summary where clinic_id = ?")
                    .param(clinic.id())
                    .update();
            assertThat(read(FEBRUARY).head().visits()).isEqualTo(february);
            note(FEBRUARY, LocalDate.of(2026, 2, 4));
            assertThat(read(FEBRUARY).head().visits()).isBetween(february - 4, february);
            note(FEBRUARY, null);
            assertThat(read(FEBRUARY).head().visits()).isZero();
        }

        private void note(YearMonth month, @Nullable LocalDate day) {
            database.sql("insert into past_visit_change (clinic_id, visit_month, visit_date)"
                            + " values (:clinic, :month, :day)")
                    .param("clinic", clinic.id())
                    .param("month", month.toString())
                    .param("day", day)
                    .update();
        }

        private void asReadAnew(YearMonth month) {
            MonthReview kept = read(month);
            forget();
            assertThat(kept).isEqualTo(read(month));
        }

        /** Everything kept; the other month's is then made again at its next reading. */
        private void forget() {
            List<LocalDate> days = kept();
            assertThat(days).isNotEmpty();
            for (String table : List.of("month_summary", "day_summary")) {
                database.sql("delete from " + table + " where clinic_id = ?")
                        .param(clinic.id())
                        .update();
            }
        }

        private void correct(LocalDate day) {
            for (Visit visit : visits.findByClinicIdAndDate(clinic.id(), day)) {
                Instant calledIn = visit.calledIn().orElseThrow();
                Instant out = calledIn.plusSeconds(60L * (5 + random.nextInt(30)));
                assertThat(visit.mendTimes(new VisitTimes(null, calledIn, out, out.plusSeconds(60))))
                        .isEmpty();
                visits.save(visit);
            }
        }

        private MonthReview read(YearMonth month) {
            return reviews.of(clinic.id(), month, Scope.EVERYONE);
        }

        private List<LocalDate> kept() {
            return database.sql("select visit_date from day_summary where clinic_id = ? order by visit_date")
                    .param(clinic.id())
                    .query(LocalDate.class)
                    .list();
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Keeping {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Keeping {}
}
