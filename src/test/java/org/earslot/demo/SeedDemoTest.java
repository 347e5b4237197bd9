package org.earslot.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.demo.ClinicFile.Practitioner;
import org.earslot.demo.ClinicFile.Session;
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
import org.earslot.exchange.BookingColumn;
import org.earslot.exchange.VisitColumn;
import org.junit.jupiter.api.Test;

/** The demo clinic's files hold together: words, times and places. */
class SeedDemoTest {

    private static final DemoFiles DEMO = DemoFiles.read();
    private static final List<String> YES_NO = List.of("yes", "no");

    @Test
    void filesAreWhatTheWriterWrites() throws IOException {
        for (Map.Entry<String, String> file : SeedDemo.files(DEMO.clinic()).entrySet()) {
            assertThat(Files.readString(DemoFiles.FOLDER.resolve(file.getKey())).equals(file.getValue()))
                    .as("run SeedDemoWriter again and commit %s", file.getKey())
                    .isTrue();
        }
    }

    @Test
    void clinicHasThreePractitionersOneWithoutIrrigationOneLeftHanded() {
        assertThat(DEMO.clinic().anchorDate().getDayOfWeek()).isEqualTo(DayOfWeek.WEDNESDAY);
        assertThat(DEMO.clinic().practitioners()).hasSize(3);
        assertThat(DEMO.clinic().practitioners())
                .filteredOn(one -> !one.methods().contains("irrigation"))
                .hasSize(1);
        assertThat(DEMO.clinic().practitioners())
                .filteredOn(one -> one.dominantHand().equals("left"))
                .hasSize(1);
        assertThat(DEMO.clinic().turnaroundMinutes()).containsOnlyKeys(Word.codes(Method.values()));
        DEMO.clinic()
                .practitioners()
                .forEach(one -> assertThat(Word.codes(Method.values())).containsAll(one.methods()));
    }

    @Test
    void sessionsNameWhatIsThereAndDoNotOverlap() {
        assertThat(DEMO.clinic().sessions().stream().map(Session::weekday).distinct())
                .hasSize(5);
        for (Session session : DEMO.clinic().sessions()) {
            assertThat(DEMO.clinic().practitioners())
                    .extracting(Practitioner::name)
                    .contains(session.practitioner());
            assertThat(DEMO.clinic().rooms()).extracting(ClinicFile.Room::name).contains(session.room());
            for (Session other : DEMO.clinic().sessions()) {
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
        assertThat(Files.size(DemoFiles.FOLDER.resolve("visit-log.csv"))).isLessThan(1_000_000);
        assertThat(DEMO.visitLog().rows()).hasSizeBetween(3_000, 4_500);
        assertThat(dates(DEMO.visitLog()).min(Comparator.naturalOrder()).orElseThrow())
                .isEqualTo(DEMO.clinic().anchorMonday().minusWeeks(SeedDemo.WEEKS_OF_PAST));
        assertThat(dates(DEMO.visitLog()).max(Comparator.naturalOrder()).orElseThrow())
                .isEqualTo(DEMO.clinic().anchorMonday().minusDays(3));
        assertThat(dates(DEMO.bookings()).max(Comparator.naturalOrder()).orElseThrow())
                .isBetween(
                        DEMO.clinic().anchorMonday().plusDays(21),
                        DEMO.clinic().anchorMonday().plusDays(25));
    }

    @Test
    void columnsAreThoseOfTheFormats() {
        assertThat(DEMO.visitLog().columns()).isEqualTo(VisitColumn.headings()).hasSize(40);
        assertThat(DEMO.thisWeek().columns()).isEqualTo(DEMO.visitLog().columns());
        assertThat(DEMO.bookings().columns())
                .isEqualTo(BookingColumn.headings())
                .hasSize(24);
    }

    @Test
    void everyWordIsOfItsList() {
        Map<String, List<String>> lists = wordsOfVisits();
        for (Row row : DEMO.everyVisit()) {
            lists.forEach((column, words) -> assertThat(words).contains(row.text(column)));
            assertThat(row.words("cautions")).isSubsetOf(Word.codes(Caution.values()));
            assertThat(row.words("right_methods")).isSubsetOf(Word.codes(Method.values()));
            assertThat(row.words("left_methods")).isSubsetOf(Word.codes(Method.values()));
            assertThat(row.text("softener_days")).matches("\\d*");
        }
        for (Row row : DEMO.bookings().rows()) {
            DEMO.bookings().columns().stream()
                    .filter(lists::containsKey)
                    .forEach(column -> assertThat(lists.get(column)).contains(row.text(column)));
            assertThat(row.words("cautions")).isSubsetOf(Word.codes(Caution.values()));
            assertThat(row.text("status")).isIn("booked", "pending");
        }
    }

    @Test
    void findingsStandOnlyWhereAnEarIsTreated() {
        for (Row row : DEMO.everyVisit()) {
            Ears ears = Ears.of(row.text("ears")).orElseThrow();
            for (Ear ear : Ear.values()) {
                boolean any = DEMO.visitLog().columns().stream()
                        .filter(column -> column.startsWith(ear.code() + '_'))
                        .anyMatch(row::has);
                assertThat(any && !ears.include(ear)).isFalse();
            }
        }
    }

    @Test
    void timesComeInOrder() {
        for (Row row : DEMO.everyVisit()) {
            assertThat(row.has("called_in")).isEqualTo(row.has("finished"));
            assertThat(row.has("called_in") && !row.seen()).isFalse();
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
                    DEMO.everyVisit().stream()
                            .filter(row -> row.has("called_in"))
                            .toList(),
                    owner,
                    row -> row.minute("called_in"),
                    SeedDemoTest::free);
            assertNoOverlap(
                    DEMO.everyVisit(),
                    owner,
                    row -> row.minute("booked_start"),
                    row -> row.minute("booked_start") + row.number("slot_minutes"));
            assertNoOverlap(
                    DEMO.bookings().rows(),
                    owner,
                    row -> row.minute("start"),
                    row -> row.minute("start") + row.number("slot_minutes"));
        }
    }

    @Test
    void bookingsLieInsideSessionsOffTheBreaks() {
        for (Row row : DEMO.bookings().rows()) {
            assertThat(DEMO.clinic().sessions().stream()
                            .filter(session -> DemoFiles.holds(session, row))
                            .count())
                    .as("session of %s", row.text("booking_id"))
                    .isEqualTo(1);
            assertThat(DEMO.clinic().practitioner(row.text("practitioner")).methods())
                    .contains(row.text("method_planned"));
        }
    }

    @Test
    void noWaterIsPlannedWhereItMustNotBe() {
        List<String> noWater =
                InventedReferral.NO_WATER.stream().map(Caution::code).toList();
        for (Row row : Stream.concat(DEMO.everyVisit().stream(), DEMO.bookings().rows().stream())
                .toList()) {
            if (row.text("method_planned").equals("irrigation")) {
                assertThat(row.words("cautions")).doesNotContainAnyElementsOf(noWater);
            }
        }
    }

    @Test
    void idsNamesAndNumbersAreUniqueAndContactsInvented() {
        assertThat(DEMO.everyVisit()).extracting(row -> row.text("visit_id")).doesNotHaveDuplicates();
        assertThat(DEMO.bookings().rows())
                .extracting(row -> row.text("booking_id"))
                .doesNotHaveDuplicates();
        assertThat(DEMO.bookings().rows())
                .extracting(row -> row.text("patient_ref"))
                .doesNotHaveDuplicates();
        assertThat(DEMO.bookings().rows())
                .extracting(row -> row.text("given_name") + ' ' + row.text("family_name"))
                .doesNotHaveDuplicates();
        assertThat(DEMO.bookings().rows())
                .extracting(row -> row.text("contact"))
                .doesNotHaveDuplicates()
                .allMatch(contact -> contact.matches("07700 900\\d{3}|01632 960\\d{3}|[a-z]+\\.[a-z]+@example\\.org"));
        assertThat(DEMO.bookings().rows())
                .allMatch(row -> LocalDate.parse(row.text("date_of_birth"))
                        .isBefore(DEMO.clinic().anchorDate().minusYears(4)));
    }

    private static Stream<LocalDate> dates(DemoTable table) {
        return table.rows().stream().map(Row::date);
    }

    private static int free(Row row) {
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
