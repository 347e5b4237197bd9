package org.earslot.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.Scope;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;

/** The same log gives the same figures to the last digit, whatever ids its rows have and whatever order they came in. */
class SameLogSameFiguresTest {

    private static final YearMonth FEBRUARY = YearMonth.of(2026, 2);
    private static final YearMonth MARCH = YearMonth.of(2026, 3);

    private static final String PROMISE = "{\"version\":\"1\",\"slotMinutes\":20,\"mean\":16.1,\"sd\":5.2,"
            + "\"completion\":{\"0.5\":15.2,\"0.8\":20.2,\"0.95\":27.3},"
            + "\"inRoom\":{\"0.5\":15.2,\"0.8\":20.2,\"0.95\":27.3},\"sharedSdLog\":0.1}";

    abstract static class Twice extends ReviewedClinic {

        @Autowired
        private Reviews reviews;

        private final Random random = new Random(7);
        private final List<Logged> log = new ArrayList<>();

        /** One visit of the log, to be put into any clinic. */
        private record Logged(
                String ref,
                boolean second,
                LocalDate day,
                String method,
                boolean hard,
                boolean estimated,
                LocalTime booked,
                LocalTime calledIn,
                LocalTime out) {

            void into(VisitRows rows, TestClinic clinic) {
                rows.by(method)
                        .finding(hard ? "hard" : null)
                        .estimating(estimated ? PROMISE : null)
                        .called(ref)
                        .add(
                                second ? clinic.p2() : clinic.p1(),
                                day,
                                booked.toString(),
                                20,
                                calledIn.toString(),
                                out.toString(),
                                out.plusSeconds(170).toString());
            }
        }

        @BeforeEach
        void visits_from_february_to_the_middle_of_march() {
            clock.set(Instant.parse("2026-03-20T18:00:00Z"));
            for (LocalDate day = FEBRUARY.atDay(1); day.isBefore(MARCH.atDay(20)); day = day.plusDays(1)) {
                list(day, false);
                list(day, true);
            }
        }

        private void list(LocalDate day, boolean second) {
            LocalTime free = LocalTime.of(9, 0);
            for (int i = 0; i < random.nextInt(5); i++) {
                LocalTime booked = LocalTime.of(9, 0).plusMinutes(20L * i);
                LocalTime calledIn = (free.isAfter(booked) ? free : booked).plusSeconds(random.nextInt(240));
                LocalTime out = calledIn.plusSeconds(480 + random.nextInt(1200));
                log.add(new Logged(
                        "V" + log.size(),
                        second,
                        day,
                        random.nextBoolean() ? "microsuction" : "irrigation",
                        random.nextBoolean(),
                        random.nextBoolean(),
                        booked,
                        calledIn,
                        out));
                free = out.plusSeconds(170);
            }
        }

        @Test
        void gives_the_same_figures() {
            TestClinic one = stored();
            for (int again = 0; again < 3; again++) {
                Collections.shuffle(log, random);
                TestClinic other = stored();
                same(FEBRUARY, one, other, any -> null);
                same(MARCH, one, other, any -> null);
                same(MARCH, one, other, TestClinic::p2);
            }
        }

        private TestClinic stored() {
            TestClinic opened = clinics.open();
            VisitRows rows = new VisitRows(database, opened.id());
            log.forEach(visit -> visit.into(rows, opened));
            return opened;
        }

        private void same(YearMonth month, TestClinic one, TestClinic other, Function<TestClinic, UUID> whose) {
            MonthReview first = reviews.of(one.id(), month, new Scope(whose.apply(one)));
            assertThat(first.head().visits()).isGreaterThan(20);
            assertThat(first.waits().minutes()).isPositive();
            assertThat(reviews.of(other.id(), month, new Scope(whose.apply(other))))
                    .isEqualTo(first);
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Twice {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Twice {}
}
