package org.earslot.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.earslot.demo.ClinicFile.Session;
import org.earslot.demo.ClinicFile.Span;
import org.earslot.demo.DemoTable.Row;
import org.junit.jupiter.api.Test;

/** The demo clinic's files tell the story they are for: the slow case, the full week, the faults of real life. */
class SeedDemoStoryTest {

    private static final DemoFiles DEMO = DemoFiles.read();

    @Test
    void everyMorningOfTheAnchorWeekHoldsASlowCaseWithTheNextRightBehind() {
        for (int day = 0; day < 5; day++) {
            LocalDate date = DEMO.clinic().anchorMonday().plusDays(day);
            List<Row> ofDay = DEMO.bookings().rows().stream()
                    .filter(row -> row.date().equals(date))
                    .toList();
            List<Row> slow =
                    ofDay.stream().filter(SeedDemoStoryTest::isSlowCase).toList();
            assertThat(slow).hasSize(1);
            Row one = slow.get(0);
            int end = one.minute("start") + one.number("slot_minutes");
            assertThat(end).isLessThan(12 * 60);
            assertThat(one.number("slot_minutes")).isEqualTo(30);
            assertThat(ofDay)
                    .filteredOn(row -> row.text("practitioner").equals(one.text("practitioner")))
                    .anyMatch(row -> row.minute("start") == end);
            Row happened = DEMO.visitOf(one);
            assertThat(happened.minute("finished") - happened.minute("called_in"))
                    .isGreaterThanOrEqualTo(45);
        }
    }

    @Test
    void diaryIsThreeQuartersFullInTheFirstWeekAndThinsOut() {
        double first = taken(0, session -> true);
        assertThat(first).isBetween(0.70, 0.82);
        for (DayOfWeek day : DayOfWeek.values()) {
            if (day.getValue() <= 5) {
                assertThat(taken(0, session -> session.morning() && session.weekday() == day))
                        .isBetween(0.80, 1.0);
            }
        }
        assertThat(taken(1, session -> true)).isBetween(0.45, first - 0.1);
        assertThat(taken(2, session -> true)).isBetween(0.25, taken(1, session -> true));
        assertThat(taken(3, session -> true)).isBetween(0.10, taken(2, session -> true));
    }

    @Test
    void thisWeekRealisesTheBookingsOfTheAnchorWeek() {
        List<Row> booked = DEMO.bookings().rows().stream()
                .filter(row -> row.date().isBefore(DEMO.clinic().anchorMonday().plusWeeks(1)))
                .toList();
        assertThat(DEMO.thisWeek().rows()).hasSameSizeAs(booked);
        for (Row booking : booked) {
            Row visit = DEMO.visitOf(booking);
            assertThat(visit.text("booked_start")).isEqualTo(booking.text("start"));
            DEMO.bookings().columns().stream()
                    .filter(column -> DEMO.visitLog().columns().contains(column) && !column.equals("note"))
                    .forEach(column -> assertThat(visit.text(column)).isEqualTo(booking.text(column)));
        }
    }

    @Test
    void workByHandIsSlowAndOverrunsItsUsualSlot() {
        Predicate<Row> both = row -> row.text("ears").equals("both");
        Predicate<Row> byHand = both.and(row -> row.text("method_planned").equals("manual_removal"));
        Predicate<Row> suction = both.and(row -> row.text("method_planned").equals("microsuction"));
        assertThat(medianMinutes(byHand)).isGreaterThan(1.7 * medianMinutes(suction));
        assertThat(overrunShare(byHand)).isBetween(0.4, 0.8);
        assertThat(overrunShare(row -> row.text("method_planned").equals("microsuction")))
                .isLessThan(0.3);
    }

    @Test
    void logHasTheFaultsOfRealLife() {
        assertThat(share(row -> !row.seen())).isBetween(0.05, 0.2);
        assertThat(share(row -> row.text("attendance").equals("attended_late"))).isBetween(0.03, 0.1);
        assertThat(share(row -> row.text("stopped_early").matches("comfort|time|safety")))
                .isBetween(0.04, 0.15);
        assertThat(share(row -> row.seen() && !row.has("called_in"))).isBetween(0.002, 0.03);
        assertThat(share(row -> row.text("first_visit").equals("no"))).isGreaterThan(0.5);
        List<Row> right = DEMO.visitLog().rows().stream()
                .filter(row -> row.has("right_wax_found"))
                .toList();
        List<Row> told =
                right.stream().filter(row -> row.has("right_wax_reported")).toList();
        assertThat(told.size() / (double) right.size()).isBetween(0.3, 0.6);
        assertThat(told.stream()
                                .filter(row -> row.text("right_wax_reported").equals(row.text("right_wax_found")))
                                .count()
                        / (double) told.size())
                .isBetween(0.55, 0.8);
    }

    private static boolean isSlowCase(Row row) {
        return row.text("method_planned").equals("manual_removal")
                && row.text("ears").equals("both")
                && row.words("cautions").contains("noise_intolerance")
                && Stream.of("right", "left")
                        .allMatch(ear -> List.of("loose", "sticky").contains(row.text(ear + "_wax_reported"))
                                && row.text(ear + "_depth_reported").equals("deep_canal")
                                && row.text(ear + "_canal_reported").equals("narrow"));
    }

    /** The share of the sessions' minutes, breaks left out, that is booked in a week of the diary. */
    private static double taken(int week, Predicate<Session> of) {
        LocalDate monday = DEMO.clinic().anchorMonday().plusWeeks(week);
        List<Session> sessions = DEMO.clinic().sessions().stream().filter(of).toList();
        long open = sessions.stream()
                .flatMap(session -> session.stretches().stream())
                .mapToLong(SeedDemoStoryTest::minutes)
                .sum();
        int booked = DEMO.bookings().rows().stream()
                .filter(row -> !row.date().isBefore(monday) && row.date().isBefore(monday.plusWeeks(1)))
                .filter(row -> sessions.stream().anyMatch(session -> DemoFiles.holds(session, row)))
                .mapToInt(row -> row.number("slot_minutes"))
                .sum();
        return booked / (double) open;
    }

    private static long minutes(Span span) {
        return Duration.between(span.from(), span.to()).toMinutes();
    }

    private static double medianMinutes(Predicate<Row> of) {
        int[] minutes = timed(of)
                .mapToInt(row -> row.minute("finished") - row.minute("called_in"))
                .sorted()
                .toArray();
        return minutes[minutes.length / 2];
    }

    private static double overrunShare(Predicate<Row> of) {
        List<Row> rows = timed(of).filter(row -> row.has("room_ready")).toList();
        return rows.stream()
                        .filter(row -> row.minute("room_ready") - row.minute("called_in") > row.number("slot_minutes"))
                        .count()
                / (double) rows.size();
    }

    private static Stream<Row> timed(Predicate<Row> of) {
        return DEMO.visitLog().rows().stream()
                .filter(row -> row.has("called_in"))
                .filter(of);
    }

    private static double share(Predicate<Row> of) {
        return DEMO.visitLog().rows().stream().filter(of).count()
                / (double) DEMO.visitLog().rows().size();
    }
}
