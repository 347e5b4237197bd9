package org.earslot.exchange;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.ear.Method;
import org.earslot.estimate.Fits;
import org.earslot.estimate.Snapshot;
import org.earslot.exchange.csv.FileForm;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportRuns;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.exchange.imports.Rejection;
import org.earslot.exchange.imports.Rejections;
import org.earslot.exchange.imports.RunStatus;
import org.earslot.exchange.imports.Uploads;
import org.earslot.page.CsvWriter;
import org.earslot.testing.PageTest;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.visit.BookedVisits;
import org.earslot.visit.ClockRecords;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.earslot.visit.VisitsImported;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.context.event.ApplicationEvents;
import org.springframework.test.context.event.RecordApplicationEvents;

class VisitLogImportTest {

    private static final ZoneId LONDON = ZoneId.of("Europe/London");

    @RecordApplicationEvents
    abstract static class Imported {
        @Autowired
        private ImportRuns runs;

        @Autowired
        private Uploads uploads;

        @Autowired
        private Rejections rejections;

        @Autowired
        private VisitLogExport export;

        @Autowired
        private Visits visits;

        @Autowired
        private Clinics clinics;

        @Autowired
        private Practitioners practitioners;

        @Autowired
        private Rooms rooms;

        @Autowired
        private Fits fits;

        @Autowired
        private ApplicationEvents events;

        private ClinicId clinicId;

        @BeforeEach
        void openClinic() {
            clinicId = newClinic();
        }

        @Test
        void shared_log_goes_in_but_for_its_planted_faults_and_again_as_repeats() throws Exception {
            String log;
            try (InputStream in = VisitLogImportTest.class.getResourceAsStream("/visit-log.csv")) {
                log = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            }
            ImportRun first = send(log, false, true, false);
            assertThat(first.status()).isEqualTo(RunStatus.DONE);
            assertThat(List.of(first.lines(), first.accepted(), first.repeats(), first.rejected()))
                    .containsExactly(2605L, 2544L, 5L, 56L);
            assertThat(rejections.page(first.id(), 0, 100)).hasSize(56);
            assertThat(visits.countByClinicId(clinicId)).isEqualTo(2544);
            assertThat(first.createdNames()).containsExactlyInAnyOrder("P1", "P2", "R1", "R2");
            assertThat(practitioners
                            .findByClinicIdAndName(clinicId, "P1")
                            .orElseThrow()
                            .methods())
                    .containsExactlyInAnyOrder(Method.values());

            ImportRun second = send(log, false, true, false);
            assertThat(List.of(second.lines(), second.accepted(), second.repeats(), second.rejected()))
                    .containsExactly(2605L, 0L, 2549L, 56L);
            assertThat(visits.countByClinicId(clinicId)).isEqualTo(2544);
            assertThat(events.stream(VisitsImported.class)).containsExactly(new VisitsImported(clinicId, 2544));
        }

        @Test
        void what_is_exported_is_what_was_imported() throws Exception {
            AnyLines any = new AnyLines(7);
            List<VisitLine> lines = new ArrayList<>();
            for (int i = 0; i < 2500; i++) {
                lines.add(any.line("V" + i));
            }
            ImportRun run = send(log(lines), false, true, false);
            assertThat(rejections.page(run.id(), 0, 5)).isEmpty();
            assertThat(run.accepted()).isEqualTo(2500);

            String exported = exported();
            List<VisitLine> back = new ArrayList<>();
            VisitLog.read(
                    new ByteArrayInputStream(exported.getBytes(StandardCharsets.UTF_8)),
                    LONDON,
                    back::add,
                    rejected -> assertThat(rejected.faults()).isEmpty());
            lines.sort(Comparator.comparing(VisitLine::visitRef));
            back.sort(Comparator.comparing(VisitLine::visitRef));
            assertThat(back).isEqualTo(lines);

            assertThat(send(exported, false, false, false).repeats()).isEqualTo(2500);
        }

        @Test
        void what_is_exported_gives_another_clinic_the_same_fit() throws Exception {
            String log;
            try (InputStream in = VisitLogImportTest.class.getResourceAsStream("/visit-log.csv")) {
                log = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            }
            send(log, false, true, false);
            Snapshot one = fits.fit(clinicId);
            List<VisitLine> lines = new ArrayList<>();
            VisitLog.read(
                    new ByteArrayInputStream(exported().getBytes(StandardCharsets.UTF_8)),
                    LONDON,
                    lines::add,
                    rejected -> assertThat(rejected.faults()).isEmpty());
            Collections.shuffle(lines, new Random(3));
            clinicId = newClinic();
            assertThat(send(log(lines), false, true, false).accepted()).isEqualTo(2544);
            Snapshot other = fits.fit(clinicId);
            assertThat(other.contentHash()).isEqualTo(one.contentHash());
            assertThat(other.scores()).isEqualTo(one.scores());
            assertThat(other.learnt().kinds()).isEqualTo(one.learnt().kinds());
            assertThat(other.learnt().effects()).isEqualTo(one.learnt().effects());
        }

        @Test
        void a_dry_run_tells_the_same_and_changes_nothing() throws Exception {
            String log = VisitLines.log(
                    VisitLines.line("V1"), VisitLines.line("V1"), VisitLines.line("V2", "method_planned", "hoover?"));
            ImportRun dry = send(log, true, true, false);
            assertThat(List.of(dry.lines(), dry.accepted(), dry.repeats(), dry.rejected()))
                    .containsExactly(3L, 1L, 1L, 1L);
            assertThat(dry.repeatedLines()).containsExactly("3");
            assertThat(visits.countByClinicId(clinicId)).isZero();
            assertThat(practitioners.findByClinicIdOrderByName(clinicId)).isEmpty();
            assertThat(rooms.findByClinicIdOrderByName(clinicId)).isEmpty();
            assertThat(rejections.page(dry.id(), 0, 10))
                    .singleElement()
                    .satisfies(rejection -> assertThat(rejection.line()).isEqualTo(4));
            assertThat(events.stream(VisitsImported.class)).isEmpty();
        }

        @Test
        void names_that_are_not_set_up_stay_out_unless_they_may_be_created() throws Exception {
            practitioners.save(new Practitioner(UUID.randomUUID(), clinicId, "P1", null, Set.of(Method.IRRIGATION)));
            rooms.save(new Room(UUID.randomUUID(), clinicId, "R1"));
            String log = VisitLines.log(
                    VisitLines.line("V1"),
                    VisitLines.line("V2", "practitioner", "P9"),
                    VisitLines.line("V3", "room", "R9"),
                    VisitLines.line("V4", "room", ""));
            ImportRun run = send(log, false, false, false);
            assertThat(run.accepted()).isEqualTo(2);
            assertThat(rejections.page(run.id(), 0, 10))
                    .extracting(rejection ->
                            rejection.rowRef() + " " + rejection.fault().column() + " "
                                    + rejection.fault().value())
                    .containsExactly("V2 practitioner P9", "V3 room R9");

            ImportRun again = send(log, false, true, false);
            assertThat(again.accepted()).isEqualTo(2);
            assertThat(again.repeats()).isEqualTo(2);
            assertThat(again.createdNames()).containsExactly("P9", "R9");
            assertThat(practitioners
                            .findByClinicIdAndName(clinicId, "P1")
                            .orElseThrow()
                            .methods())
                    .containsExactly(Method.IRRIGATION);
        }

        @Test
        void other_content_for_a_known_id_is_an_error_unless_update_is_chosen() throws Exception {
            send(VisitLines.log(VisitLines.line("V1", "note", "first")), false, true, false);
            String other = VisitLines.log(VisitLines.line("V1", "note", "second"));

            ImportRun refused = send(other, false, true, false);
            assertThat(rejections.page(refused.id(), 0, 10))
                    .singleElement()
                    .satisfies(
                            rejection -> assertThat(rejection.fault().column()).isEqualTo("visit_id"));
            assertThat(note("V1")).contains("first");

            ImportRun updated = send(other, false, true, true);
            assertThat(updated.accepted()).isEqualTo(1);
            assertThat(note("V1")).contains("second");
            assertThat(send(other, false, true, true).repeats()).isEqualTo(1);
        }

        @Test
        void with_update_the_last_of_several_lines_stands() throws Exception {
            ImportRun run = send(
                    VisitLines.log(VisitLines.line("V1", "note", "first"), VisitLines.line("V1", "note", "second")),
                    false,
                    true,
                    true);
            assertThat(run.accepted()).isEqualTo(2);
            assertThat(note("V1")).contains("second");
        }

        @Test
        void visits_of_the_clinics_own_day_go_out_and_come_back_as_repeats() throws Exception {
            UUID practitioner = practitioners
                    .save(new Practitioner(UUID.randomUUID(), clinicId, "P1", null, Set.of()))
                    .id();
            Visit visit = Visit.booked(BookedVisits.bothEarsByHand(clinicId, practitioner, "B1"));
            Instant nine = Instant.parse("2026-03-03T09:00:20Z");
            visit.write(ClockRecords.seen(nine, nine.plusSeconds(15)));
            visits.save(visit);
            visits.save(Visit.booked(BookedVisits.bothEarsByHand(clinicId, practitioner, "open")));

            String exported = exported();
            assertThat(exported.lines()).hasSize(2);
            assertThat(exported).contains(",09:00,09:01,");
            assertThat(send(exported, false, false, false).repeats()).isEqualTo(1);
        }

        @Test
        void the_export_keeps_to_its_dates() throws Exception {
            send(
                    VisitLines.log(
                            VisitLines.line("V1", "date", "2026-02-28"),
                            VisitLines.line("V2", "date", "2026-03-01"),
                            VisitLines.line("V3", "date", "2026-03-02")),
                    false,
                    true,
                    false);
            StringBuilder out = new StringBuilder();
            LocalDate first = LocalDate.of(2026, 3, 1);
            export.write(clinicId, Optional.of(first), Optional.of(first), out);
            assertThat(out.toString().lines().skip(1))
                    .singleElement()
                    .asString()
                    .startsWith("V2,");
        }

        @Test
        void clinics_do_not_see_each_other() throws Exception {
            String log = VisitLines.log(VisitLines.line("V1"));
            ImportRun here = send(log, false, true, false);
            ClinicId there = newClinic();
            assertThat(runs.find(there, here.id())).isEmpty();
            assertThat(runs.latest(there)).isEmpty();
            clinicId = there;
            assertThat(send(log, false, true, false).accepted()).isEqualTo(1);
        }

        @Test
        void a_broken_file_costs_its_broken_lines_only() throws Exception {
            String log = VisitLines.log(VisitLines.line("V1"), VisitLines.line("V2"), VisitLines.line("V3"))
                    .replace("V2,", "V2,\"open");
            ImportRun run = send(log, false, true, false);
            assertThat(run.accepted()).isEqualTo(2);
            assertThat(rejections.page(run.id(), 0, 10))
                    .extracting(Rejection::line)
                    .containsExactly(3L);
        }

        @Test
        void a_file_without_the_needed_columns_is_refused_with_their_names() throws Exception {
            assertThatThrownBy(() -> send("visit_id,date\nV1,2026-03-02\n", false, true, false))
                    .isInstanceOf(UnreadableFile.class);
            ImportRun run = runs.latest(clinicId).get(0);
            assertThat(run.status()).isEqualTo(RunStatus.FAILED);
            assertThat(String.join(" ", run.messages())).contains("patient_ref").contains("ears");
            assertThat(run.underWay()).isFalse();
        }

        private Optional<String> note(String visitRef) {
            return visits.findByClinicIdAndVisitRef(clinicId, visitRef)
                    .orElseThrow()
                    .note();
        }

        private String exported() throws Exception {
            StringBuilder out = new StringBuilder();
            export.write(clinicId, Optional.empty(), Optional.empty(), out);
            return out.toString();
        }

        private static String log(List<VisitLine> lines) throws Exception {
            StringBuilder log = new StringBuilder();
            CsvWriter writer = new CsvWriter(log);
            writer.write(VisitColumn.headings());
            for (VisitLine line : lines) {
                writer.write(VisitColumn.cells(line));
            }
            return log.toString();
        }

        private ImportRun send(String log, boolean dryRun, boolean createNames, boolean update) throws Exception {
            var upload =
                    uploads.store(clinicId, "log.csv", new ByteArrayInputStream(log.getBytes(StandardCharsets.UTF_8)));
            return runs.runNow(
                            new ImportTerms(clinicId, "lead", ImportKind.VISIT_LOG, dryRun, createNames, update),
                            upload,
                            FileForm.own(VisitColumn.headings(), VisitColumn.requiredHeadings()))
                    .orElseThrow();
        }

        private ClinicId newClinic() {
            return clinics.save(
                            new Clinic(ClinicId.random(), "Fernside", LONDON, Instant.parse("2026-03-03T09:00:00Z")))
                    .id();
        }
    }

    @Nested
    @PageTest
    class OnH2Database extends Imported {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Imported {}
}
