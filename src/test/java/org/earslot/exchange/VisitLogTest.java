package org.earslot.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.earslot.exchange.csv.FieldError;
import org.earslot.page.CsvWriter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

class VisitLogTest {

    private static final ZoneId LONDON = ZoneId.of("Europe/London");

    private final List<VisitLine> accepted = new ArrayList<>();
    private final List<VisitLog.Rejected> rejected = new ArrayList<>();

    @Test
    void of_the_shared_clinic_reports_exactly_the_planted_faults() throws Exception {
        Map<String, String> planted = planted();
        long repeats = planted.values().stream().filter("repeated line"::equals).count();

        VisitLog.Counts counts;
        try (InputStream log = VisitLogTest.class.getResourceAsStream("/visit-log.csv")) {
            counts = VisitLog.read(log, LONDON, accepted::add, rejected::add);
        }
        assertThat(counts)
                .isEqualTo(new VisitLog.Counts(2605, 2605 - planted.size(), repeats, planted.size() - repeats));

        Map<String, String> found = new LinkedHashMap<>();
        for (VisitLog.Rejected line : rejected) {
            assertThat(line.faults()).as(line.visitRef()).hasSize(1);
            found.put(line.visitRef(), kind(line.faults().get(0)));
            assertThat(line.raw()).startsWith(line.visitRef() + ",");
            assertThat(line.faults().get(0).remedy()).isNotBlank();
        }
        planted.values().removeIf("repeated line"::equals);
        assertThat(found).isEqualTo(planted);
    }

    @Test
    void numbers_lines_as_they_stand_in_the_file() throws Exception {
        try (InputStream log = VisitLogTest.class.getResourceAsStream("/visit-log.csv")) {
            VisitLog.read(log, LONDON, accepted::add, rejected::add);
        }
        List<String> lines = new String(
                        VisitLogTest.class.getResourceAsStream("/visit-log.csv").readAllBytes(), StandardCharsets.UTF_8)
                .lines()
                .toList();
        for (VisitLog.Rejected line : rejected) {
            assertThat(lines.get((int) line.line() - 1)).startsWith(line.visitRef() + ",");
        }
    }

    private static Map<String, String> planted() throws Exception {
        Map<String, String> planted = new LinkedHashMap<>();
        try (InputStream in = VisitLogTest.class.getResourceAsStream("/planted-faults.json")) {
            for (JsonNode fault : JsonMapper.shared().readTree(in)) {
                planted.put(fault.get(0).asString(), fault.get(1).asString());
            }
        }
        return planted;
    }

    /** The planted kind that a report of this column and value stands for. */
    private static String kind(FieldError fault) {
        return switch (fault.column() + "|" + fault.value()) {
            case "method_planned|hoover?" -> "method not known";
            case "date|31/02/2026" -> "date not a date";
            case "called_in|" -> "attended, no called_in";
            default ->
                switch (fault.column()) {
                    case "slot_minutes" -> fault.value().startsWith("-") ? "slot not positive" : "?";
                    case "finished" ->
                        fault.reason().startsWith("not after called in")
                                ? "finished before called in"
                                : fault.reason().startsWith("more than 180 minutes") ? "400 minutes" : "?";
                    default -> "?";
                };
        };
    }

    @ParameterizedTest
    @CsvSource(
            nullValues = "-",
            value = {
                "visit_id, ''",
                "patient_ref, ''",
                "date, ''",
                "date, 2026-02-31",
                "date, 02/03/2026",
                "date, 2026-3-2",
                "practitioner, ''",
                "attendance, ''",
                "attendance, seen",
                "method_planned, ''",
                "method_planned, suction",
                "ears, ''",
                "ears, Both",
                "first_visit, not_known",
                "hearing_aid, maybe",
                "cautions, tinnitus;gout",
                "softener_days, -1",
                "softener_days, 2.5",
                "right_wax_reported, runny",
                "left_canal_reported, tight",
                "right_depth_reported, deep",
                "left_occlusion_reported, half",
                "right_methods, microsuction;hook",
                "left_wax_found, runny",
                "right_canal_found, tight",
                "left_depth_found, deep",
                "right_occlusion_found, half",
                "booked_start, 9:00",
                "booked_start, 24:00",
                "slot_minutes, 0",
                "slot_minutes, -20",
                "slot_minutes, 181",
                "arrived, 08:60",
                "called_in, nine",
                "finished, 09:02",
                "finished, 09:01",
                "finished, 12:03",
                "room_ready, 12:21",
                "room_ready, 9.23",
                "stopped_early, yes",
                "right_outcome, cured",
                "left_outcome, unclear"
            })
    void rejects_a_value_that_cannot_stand_and_says_which(String column, String value) throws Exception {
        read(VisitLines.log(VisitLines.line("V1", column, value), VisitLines.line("V2")));
        assertThat(accepted).extracting(VisitLine::visitRef).containsExactly("V2");
        assertThat(rejected).singleElement().satisfies(line -> {
            assertThat(line.line()).isEqualTo(2);
            assertThat(line.faults()).singleElement().satisfies(fault -> {
                assertThat(fault.column()).isEqualTo(column);
                assertThat(fault.value()).isEqualTo(value);
                assertThat(fault.reason()).isNotBlank();
                assertThat(fault.remedy()).isNotBlank();
            });
        });
    }

    @Test
    void names_all_that_is_wrong_with_a_line() throws Exception {
        read(VisitLines.log(VisitLines.line("V1", "date", "soon", "ears", "all", "slot_minutes", "x")));
        assertThat(rejected.get(0).faults())
                .extracting(FieldError::column)
                .containsExactly("date", "ears", "slot_minutes");
    }

    @Test
    void rejects_attended_lines_with_one_of_two_times_and_takes_those_with_neither() throws Exception {
        read(VisitLines.log(
                VisitLines.line("V1", "called_in", ""),
                VisitLines.line("V2", "attendance", "attended_late", "finished", "", "room_ready", ""),
                VisitLines.line("V3", "called_in", "", "finished", "", "room_ready", ""),
                VisitLines.line("V4", "attendance", "did_not_attend", "called_in", "")));
        assertThat(rejected).extracting(line -> line.faults().get(0).column()).containsExactly("called_in", "finished");
        assertThat(accepted).extracting(VisitLine::visitRef).containsExactly("V3", "V4");
    }

    @Test
    void takes_what_the_rules_do_not_forbid() throws Exception {
        read(VisitLines.log(
                VisitLines.line("V1", "arrived", "09:10"),
                VisitLines.line("V2", "room_ready", "09:10"),
                VisitLines.line("V3", "finished", "12:02", "room_ready", "15:02"),
                VisitLines.line("V4", "ears", "left", "right_methods", "irrigation"),
                VisitLines.line("V5", "softener_days", "0", "slot_minutes", "180", "room", "")));
        assertThat(rejected).isEmpty();
        assertThat(accepted).hasSize(5);
    }

    @Test
    void reads_every_value_of_a_line() throws Exception {
        read(VisitLines.log(VisitLines.line(
                "V1",
                "first_visit",
                "yes",
                "cautions",
                "tinnitus;perforation;tinnitus",
                "softener_days",
                "5",
                "right_wax_reported",
                "hard",
                "left_occlusion_found",
                "partly",
                "right_methods",
                "microsuction;manual_removal;microsuction",
                "note",
                " =2+5 ")));
        VisitLine line = accepted.get(0);
        assertThat(line.values())
                .containsEntry(VisitColumn.FIRST_VISIT, Answer.YES)
                .containsEntry(VisitColumn.HEARING_AID, Answer.NOT_KNOWN)
                .containsEntry(VisitColumn.ATTENDANCE, Attendance.ATTENDED)
                .containsEntry(VisitColumn.CAUTIONS, List.of(Caution.TINNITUS, Caution.PERFORATION))
                .containsEntry(
                        VisitColumn.RIGHT_METHODS,
                        List.of(Method.MICROSUCTION, Method.MANUAL_REMOVAL, Method.MICROSUCTION))
                .containsEntry(VisitColumn.CALLED_IN, LocalTime.of(9, 2))
                .containsEntry(VisitColumn.NOTE, " =2+5 ");
    }

    @Test
    void rejects_the_hour_that_the_clocks_skip_and_takes_the_one_they_show_twice() throws Exception {
        read(VisitLines.log(
                VisitLines.line("V1", "date", "2026-03-29", "booked_start", "01:30"),
                VisitLines.line("V2", "date", "2026-10-25", "booked_start", "01:30")));
        assertThat(rejected)
                .singleElement()
                .satisfies(line -> assertThat(line.faults().get(0).column()).isEqualTo("booked_start"));
        assertThat(accepted).extracting(VisitLine::visitRef).containsExactly("V2");
    }

    @Test
    void passes_over_repeats_and_rejects_an_id_with_other_content() throws Exception {
        VisitLog.Counts counts = read(
                VisitLines.log(VisitLines.line("V1"), VisitLines.line("V1"), VisitLines.line("V1", "note", "other")));
        assertThat(counts).isEqualTo(new VisitLog.Counts(3, 1, 1, 1));
        assertThat(rejected.get(0).faults().get(0).column()).isEqualTo("visit_id");
        assertThat(rejected.get(0).line()).isEqualTo(4);
    }

    @Test
    void takes_columns_in_any_order_and_without_those_not_required() throws Exception {
        read("ears,date,visit_id,mood,patient_ref,method_planned,attendance,practitioner\n"
                + "left,2026-03-02,V1,good,K1,irrigation,did_not_attend,P1\n");
        assertThat(accepted).singleElement().satisfies(line -> {
            assertThat(line.methodPlanned()).isEqualTo(Method.IRRIGATION);
            assertThat(line.room()).isEmpty();
        });
    }

    @Test
    void written_again_is_the_same() throws Exception {
        try (InputStream log = VisitLogTest.class.getResourceAsStream("/visit-log.csv")) {
            VisitLog.read(log, LONDON, accepted::add, rejected::add);
        }
        List<VisitLine> first = List.copyOf(accepted);
        StringBuilder written = new StringBuilder();
        CsvWriter writer = new CsvWriter(written);
        writer.write(VisitColumn.headings());
        for (VisitLine line : first) {
            writer.write(VisitColumn.cells(line));
        }
        accepted.clear();
        rejected.clear();
        read(written.toString());
        assertThat(accepted).isEqualTo(first);
        assertThat(rejected).isEmpty();
    }

    private VisitLog.Counts read(String log) throws Exception {
        return VisitLog.read(
                new ByteArrayInputStream(log.getBytes(StandardCharsets.UTF_8)), LONDON, accepted::add, rejected::add);
    }
}
