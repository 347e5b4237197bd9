package org.earslot.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.demo.ClinicFile.Practitioner;
import org.earslot.demo.ClinicFile.Session;
import org.earslot.demo.ClinicFile.Span;
import org.earslot.demo.DemoTable.Row;
import org.earslot.ear.Attendance;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The demo clinic's files hold together: words, times, places and the story they are to show. */
class SeedDemoTest {

    private static final Path FOLDER = Path.of("seed-demo");
    private static final List<String> YES_NO = List.of("yes", "no");

    private static ClinicFile clinic;
    private static DemoTable visitLog;
    private static DemoTable thisWeek;
    private static DemoTable bookings;

    @BeforeAll
    static void readsTheFiles() throws IOException {
        clinic = ClinicFile.read(FOLDER);
        visitLog = DemoTable.read(FOLDER.resolve("visit-log.csv"));
        thisWeek = DemoTable.read(FOLDER.resolve("this-week.csv"));
        bookings = DemoTable.read(FOLDER.resolve("bookings.csv"));
    }

    @Test
    void filesAreWhatTheWriterWrites() throws IOException {
        for (Map.Entry<String, String> file : SeedDemo.files(clinic).entrySet()) {
            assertThat(Files.readString(FOLDER.resolve(file.getKey())).equals(file.getValue()))
                    .as("run SeedDemoWriter again and commit %s", file.getKey())
                    .isTrue();
        }
    }

    @Test
    void clinicHasThreePractitionersOneWithoutIrrigationOneLeftHanded() {
        assertThat(clinic.anchorDate().getDayOfWeek()).isEqualTo(DayOfWeek.WEDNESDAY);
        assertThat(clinic.practitioners()).hasSize(3);
        assertThat(clinic.practitioners())
                .filteredOn(one -> !one.methods().contains("irrigation"))
                .hasSize(1);
        assertThat(clinic.practitioners())
                .filteredOn(one -> one.dominantHand().equals("left"))
                .hasSize(1);
        assertThat(clinic.turnaroundMinutes()).containsOnlyKeys(Word.codes(Method.values()));
        clinic.practitioners()
                .forEach(one -> assertThat(Word.codes(Method.values())).containsAll(one.methods()));
    }

    @Test
    void sessionsNameWhatIsThereAndDoNotOverlap() {
        assertThat(clinic.sessions().stream().map(Session::weekday).distinct()).hasSize(5);
        for (Session session : clinic.sessions()) {
            assertThat(clinic.practitioners()).extracting(Practitioner::name).contains(session.practitioner());
            assertThat(clinic.rooms()).extracting(ClinicFile.Room::name).contains(session.room());
            for (Session other : clinic.sessions()) {
                boolean shares = session.room().equals(other.room())
                        || session.practitioner().equals(other.practitioner());
                boolean together = session.weekday() == other.weekday()
                        && session.from().isBefore(other.to())
                        && other.from().isBefore(session.to());
                assertThat(session != other && shares && together).isFalse();
            }
        }
    }

    @Test
    void filesKeepTheirSizeAndSpan() throws IOException {
        assertThat(Files.size(FOLDER.resolve("visit-log.csv"))).isLessThan(1_000_000);
        assertThat(visitLog.rows()).hasSizeBetween(3_000, 4_500);
        assertThat(dates(visitLog).min(Comparator.naturalOrder()).orElseThrow())
                .isEqualTo(clinic.anchorMonday().minusWeeks(SeedDemo.WEEKS_OF_PAST));
        assertThat(dates(visitLog).max(Comparator.naturalOrder()).orElseThrow())
                .isEqualTo(clinic.anchorMonday().minusDays(3));
        assertThat(dates(bookings).max(Comparator.naturalOrder()).orElseThrow())
                .isBetween(
                        clinic.anchorMonday().plusDays(21),
                        clinic.anchorMonday().plusDays(25));
    }

    @Test
    void columnsAreThoseOfTheFormats() {
        assertThat(visitLog.columns()).isEqualTo(DemoColumns.visitLog()).hasSize(40);
        assertThat(thisWeek.columns()).isEqualTo(visitLog.columns());
        assertThat(bookings.columns()).isEqualTo(DemoColumns.bookings()).hasSize(24);
    }

    @Test
    void everyWordIsOfItsList() {
        Map<String, List<String>> lists = wordsOfVisits();
        for (Row row : everyVisit()) {
            lists.forEach((column, words) -> assertThat(words).contains(row.text(column)));
            assertThat(wordsIn(row, "cautions")).isSubsetOf(Word.codes(Caution.values()));
            assertThat(wordsIn(row, "right_methods")).isSubsetOf(Word.codes(Method.values()));
            assertThat(wordsIn(row, "left_methods")).isSubsetOf(Word.codes(Method.values()));
            assertThat(row.text("softener_days")).matches("\\d*");
        }
        for (Row row : bookings.rows()) {
            bookings.columns().stream()
                    .filter(lists::containsKey)
                    .forEach(column -> assertThat(lists.get(column)).contains(row.text(column)));
            assertThat(wordsIn(row, "cautions")).isSubsetOf(Word.codes(Caution.values()));
            assertThat(row.text("status")).isIn("booked", "pending");
        }
    }

    @Test
    void findingsStandOnlyWhereAnEarIsTreated() {
        for (Row row : everyVisit()) {
            Ears ears = Ears.of(row.text("ears")).orElseThrow();
            for (Ear ear : Ear.values()) {
                boolean any = visitLog.columns().stream()
                        .filter(column -> column.startsWith(ear.code() + '_'))
                        .anyMatch(row::has);
                assertThat(any && !ears.include(ear)).isFalse();
            }
        }
    }

    @Test
    void timesComeInOrder() {
        for (Row row : everyVisit()) {
            assertThat(row.has("called_in")).isEqualTo(row.has("finished"));
            assertThat(row.has("called_in") && !seen(row)).isFalse();
            if (!row.has("called_in")) {
                assertThat(row.has("room_ready")).isFalse();
                continue;
            }
            assertThat(row.minute("finished") - row.minute("called_in")).isBetween(1, 180);
            if (row.has("arrived")) {
                assertThat(row.minute("arrived")).isLessThanOrEqualTo(row.minute("called_in"));
            }
            if (row.has("room_ready")) {
                assertThat(row.minute("room_ready")).isGreaterThanOrEqualTo(row.minute("finished"));
            }
        }
    }

    @Test
    void nobodyAndNoRoomServesTwoAtOnce() {
        for (String owner : List.of("practitioner", "room")) {
            assertNoOverlap(
                    everyVisit().stream().filter(row -> row.has("called_in")).toList(),
                    owner,
                    this::calledIn,
                    this::free);
            assertNoOverlap(
                    everyVisit(),
                    owner,
                    row -> row.minute("booked_start"),
                    row -> row.minute("booked_start") + row.number("slot_minutes"));
            assertNoOverlap(
                    bookings.rows(),
                    owner,
                    row -> row.minute("start"),
                    row -> row.minute("start") + row.number("slot_minutes"));
        }
    }

    @Test
    void bookingsLieInsideSessionsOffTheBreaks() {
        for (Row row : bookings.rows()) {
            assertThat(clinic.sessions().stream()
                            .filter(session -> holds(session, row))
                            .count())
                    .as("session of %s", row.text("booking_id"))
                    .isEqualTo(1);
            assertThat(clinic.practitioner(row.text("practitioner")).methods()).contains(row.text("method_planned"));
        }
    }

    @Test
    void noWaterIsPlannedWhereItMustNotBe() {
        List<String> noWater =
                InventedReferral.NO_WATER.stream().map(Caution::code).toList();
        for (Row row :
                Stream.concat(everyVisit().stream(), bookings.rows().stream()).toList()) {
            if (row.text("method_planned").equals("irrigation")) {
                assertThat(wordsIn(row, "cautions")).doesNotContainAnyElementsOf(noWater);
            }
        }
    }

    @Test
    void idsNamesAndNumbersAreUniqueAndContactsInvented() {
        assertThat(everyVisit()).extracting(row -> row.text("visit_id")).doesNotHaveDuplicates();
        assertThat(bookings.rows()).extracting(row -> row.text("booking_id")).doesNotHaveDuplicates();
        assertThat(bookings.rows()).extracting(row -> row.text("patient_ref")).doesNotHaveDuplicates();
        assertThat(bookings.rows())
                .extracting(row -> row.text("given_name") + ' ' + row.text("family_name"))
                .doesNotHaveDuplicates();
        assertThat(bookings.rows())
                .extracting(row -> row.text("contact"))
                .doesNotHaveDuplicates()
                .allMatch(contact -> contact.matches("07700 900\\d{3}|01632 960\\d{3}|[a-z]+\\.[a-z]+@example\\.org"));
        assertThat(bookings.rows())
                .allMatch(row -> LocalDate.parse(row.text("date_of_birth"))
                        .isBefore(clinic.anchorDate().minusYears(4)));
    }

    @Test
    void everyMorningOfTheAnchorWeekHoldsASlowCaseWithTheNextRightBehind() {
        for (int day = 0; day < 5; day++) {
            LocalDate date = clinic.anchorMonday().plusDays(day);
            List<Row> ofDay = bookings.rows().stream()
                    .filter(row -> row.date().equals(date))
                    .toList();
            List<Row> slow = ofDay.stream().filter(this::isSlowCase).toList();
            assertThat(slow).hasSize(1);
            Row one = slow.get(0);
            int end = one.minute("start") + one.number("slot_minutes");
            assertThat(end).isLessThan(12 * 60);
            assertThat(one.number("slot_minutes")).isEqualTo(30);
            assertThat(ofDay)
                    .filteredOn(row -> row.text("practitioner").equals(one.text("practitioner")))
                    .anyMatch(row -> row.minute("start") == end);
            Row happened = visitOf(one);
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
        List<Row> booked = bookings.rows().stream()
                .filter(row -> row.date().isBefore(clinic.anchorMonday().plusWeeks(1)))
                .toList();
        assertThat(thisWeek.rows()).hasSameSizeAs(booked);
        for (Row booking : booked) {
            Row visit = visitOf(booking);
            assertThat(visit.text("booked_start")).isEqualTo(booking.text("start"));
            bookings.columns().stream()
                    .filter(column -> visitLog.columns().contains(column) && !column.equals("note"))
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
        assertThat(share(row -> !seen(row))).isBetween(0.05, 0.2);
        assertThat(share(row -> row.text("attendance").equals("attended_late"))).isBetween(0.03, 0.1);
        assertThat(share(row -> row.text("stopped_early").matches("comfort|time|safety")))
                .isBetween(0.04, 0.15);
        assertThat(share(row -> seen(row) && !row.has("called_in"))).isBetween(0.002, 0.03);
        assertThat(share(row -> row.text("first_visit").equals("no"))).isGreaterThan(0.5);
        List<Row> right = visitLog.rows().stream()
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

    private boolean isSlowCase(Row row) {
        return row.text("method_planned").equals("manual_removal")
                && row.text("ears").equals("both")
                && wordsIn(row, "cautions").contains("noise_intolerance")
                && Stream.of("right", "left")
                        .allMatch(ear -> List.of("loose", "sticky").contains(row.text(ear + "_wax_reported"))
                                && row.text(ear + "_depth_reported").equals("deep_canal")
                                && row.text(ear + "_canal_reported").equals("narrow"));
    }

    private static List<Row> everyVisit() {
        return Stream.concat(visitLog.rows().stream(), thisWeek.rows().stream()).toList();
    }

    private static Stream<LocalDate> dates(DemoTable table) {
        return table.rows().stream().map(Row::date);
    }

    private static List<String> wordsIn(Row row, String column) {
        return row.has(column) ? Arrays.asList(row.text(column).split(";")) : List.of();
    }

    private static Row visitOf(Row booking) {
        return thisWeek.rows().stream()
                .filter(row -> row.text("visit_id").equals(booking.text("booking_id")))
                .findFirst()
                .orElseThrow();
    }

    private static boolean seen(Row row) {
        return row.text("attendance").startsWith("attended");
    }

    private int calledIn(Row row) {
        return row.minute("called_in");
    }

    private int free(Row row) {
        return row.minute(row.has("room_ready") ? "room_ready" : "finished");
    }

    private static void assertNoOverlap(
            Collection<Row> rows, String owner, ToIntFunction<Row> from, ToIntFunction<Row> to) {
        Map<String, List<Row>> lists =
                rows.stream().collect(Collectors.groupingBy(row -> row.text(owner) + ' ' + row.date()));
        for (List<Row> list : lists.values()) {
            List<Row> inOrder =
                    list.stream().sorted(Comparator.comparingInt(from)).toList();
            for (int i = 1; i < inOrder.size(); i++) {
                assertThat(from.applyAsInt(inOrder.get(i))).isGreaterThanOrEqualTo(to.applyAsInt(inOrder.get(i - 1)));
            }
        }
    }

    private static boolean holds(Session session, Row row) {
        LocalTime start = LocalTime.parse(row.text("start"));
        LocalTime end = start.plusMinutes(row.number("slot_minutes"));
        return session.weekday() == row.date().getDayOfWeek()
                && session.practitioner().equals(row.text("practitioner"))
                && session.room().equals(row.text("room"))
                && session.stretches().stream()
                        .anyMatch(span -> !start.isBefore(span.from()) && !end.isAfter(span.to()));
    }

    /** The share of the sessions' minutes, breaks left out, that is booked in a week of the diary. */
    private static double taken(int week, Predicate<Session> of) {
        LocalDate monday = clinic.anchorMonday().plusWeeks(week);
        List<Session> sessions = clinic.sessions().stream().filter(of).toList();
        long open = sessions.stream()
                .flatMap(session -> session.stretches().stream())
                .mapToLong(SeedDemoTest::minutes)
                .sum();
        int booked = bookings.rows().stream()
                .filter(row -> !row.date().isBefore(monday) && row.date().isBefore(monday.plusWeeks(1)))
                .filter(row -> sessions.stream().anyMatch(session -> holds(session, row)))
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
        return visitLog.rows().stream().filter(row -> row.has("called_in")).filter(of);
    }

    private static double share(Predicate<Row> of) {
        return visitLog.rows().stream().filter(of).count()
                / (double) visitLog.rows().size();
    }

    private static Map<String, List<String>> wordsOfVisits() {
        Map<String, List<String>> lists = new HashMap<>();
        lists.put("attendance", Word.codes(Attendance.values()));
        lists.put("method_planned", Word.codes(Method.values()));
        lists.put("ears", Word.codes(Ears.values()));
        lists.put("first_visit", orEmpty(YES_NO));
        lists.put("hearing_aid", orEmpty(YES_NO));
        lists.put("stopped_early", orEmpty(Word.codes(StoppedEarly.values())));
        for (String ear : List.of("right", "left")) {
            lists.put(ear + "_outcome", orEmpty(Word.codes(Outcome.values())));
            for (String kind : List.of("_reported", "_found")) {
                lists.put(ear + "_wax" + kind, orEmpty(Word.codes(Wax.values())));
                lists.put(ear + "_canal" + kind, orEmpty(Word.codes(Canal.values())));
                lists.put(ear + "_depth" + kind, orEmpty(Word.codes(Depth.values())));
                lists.put(ear + "_occlusion" + kind, orEmpty(Word.codes(Occlusion.values())));
            }
        }
        return lists;
    }

    private static List<String> orEmpty(List<String> words) {
        return Stream.concat(Stream.of(""), words.stream()).toList();
    }
}
