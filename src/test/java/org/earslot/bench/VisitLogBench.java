package org.earslot.bench;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.UUID;
import javax.sql.DataSource;
import org.earslot.Earslot;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.exchange.VisitColumn;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.CsvRow;
import org.earslot.exchange.csv.FileForm;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.ImportRun;
import org.earslot.exchange.imports.ImportRuns;
import org.earslot.exchange.imports.ImportTerms;
import org.earslot.exchange.imports.Upload;
import org.earslot.exchange.imports.Uploads;
import org.earslot.page.CsvWriter;
import org.earslot.testing.PostgresServer;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;

/**
 * How long a visit log of 100,000 lines takes to go in, on an H2 file and on PostgreSQL, beside the plainest thing that
 * could be done with the same rows in the same run: their cells as texts into a bare table, batch by batch. The import
 * reads, checks, looks up repeats, hashes, and writes rows with three indexes.
 */
public final class VisitLogBench {

    private static final int LINES = 100_000;
    private static final int BATCH = 1000;

    private VisitLogBench() {}

    public static void main(String[] args) throws Exception {
        Path folder = Files.createTempDirectory("visit-log-bench");
        Path log = folder.resolve("visit-log.csv");
        write(log);
        System.out.printf(Locale.ROOT, "file: %d lines, %.1f MB%n", LINES, Files.size(log) / 1e6);
        measure("H2 file", "jdbc:h2:file:" + folder.resolve("h2") + ";WRITE_DELAY=0", "sa", "", log);
        measure("PostgreSQL", PostgresServer.newDatabase(), PostgresServer.user(), PostgresServer.password(), log);
        System.exit(0);
    }

    private static void measure(String name, String url, String user, String password, Path log) throws Exception {
        try (ConfigurableApplicationContext app = SpringApplication.run(
                Earslot.class,
                "--server.port=0",
                "--spring.main.banner-mode=off",
                "--logging.level.root=WARN",
                "--earslot.fits.after-import=1h",
                "--spring.datasource.url=" + url,
                "--spring.datasource.username=" + user,
                "--spring.datasource.password=" + password)) {
            ClinicId clinic = app.getBean(Clinics.class)
                    .save(new Clinic(
                            ClinicId.random(),
                            "Bench",
                            ZoneOffset.UTC,
                            Clock.systemUTC().instant()))
                    .id();
            tell(name, "reference, plain batches", reference(app.getBean(DataSource.class), log));
            tell(name, "dry run", imported(app, clinic, log, true));
            tell(name, "import", imported(app, clinic, log, false));
            tell(name, "the same file again", imported(app, clinic, log, false));
            tell(name, "reference, plain batches", reference(app.getBean(DataSource.class), log));
        }
    }

    private static void tell(String database, String what, Took took) {
        System.out.printf(
                Locale.ROOT,
                "%-12s %-26s %6.2f s  %8.0f lines a second, %6.2f s of this program's processor time%n",
                database,
                what,
                took.seconds,
                LINES / took.seconds,
                took.processorSeconds);
    }

    /** Processor time beside the wall's, since the latter means little on a machine that does other work as well. */
    private static final class Took {

        private final long from = System.nanoTime();
        private final long processorFrom = processorTime();
        private double seconds;
        private double processorSeconds;

        Took end() {
            seconds = (System.nanoTime() - from) / 1e9;
            processorSeconds = (processorTime() - processorFrom) / 1e9;
            return this;
        }

        private static long processorTime() {
            return ManagementFactory.getPlatformMXBean(com.sun.management.OperatingSystemMXBean.class)
                    .getProcessCpuTime();
        }
    }

    private static Took imported(ConfigurableApplicationContext app, ClinicId clinic, Path log, boolean dryRun)
            throws Exception {
        Upload upload;
        try (InputStream in = Files.newInputStream(log)) {
            upload = app.getBean(Uploads.class).store(clinic, "visit-log.csv", in);
        }
        Took took = new Took();
        ImportRun run = app.getBean(ImportRuns.class)
                .runNow(
                        new ImportTerms(clinic, "bench", ImportKind.VISIT_LOG, dryRun, true, false),
                        upload,
                        FileForm.own(VisitColumn.headings(), VisitColumn.requiredHeadings()))
                .orElseThrow();
        took.end();
        if (run.accepted() + run.repeats() != LINES) {
            throw new IllegalStateException("not all lines went in: " + run.accepted() + " and " + run.repeats());
        }
        return took;
    }

    private static Took reference(DataSource database, Path log) throws Exception {
        List<String> columns =
                VisitColumn.headings().stream().map(column -> "c_" + column).toList();
        String table = "bench_" + UUID.randomUUID().toString().replace("-", "");
        Took took = new Took();
        try (Connection connection = database.getConnection();
                InputStream in = Files.newInputStream(log)) {
            connection
                    .createStatement()
                    .execute("create table " + table + " (" + String.join(" varchar, ", columns) + " varchar)");
            connection.setAutoCommit(false);
            String places = String.join(", ", Collections.nCopies(columns.size(), "?"));
            try (PreparedStatement insert =
                    connection.prepareStatement("insert into " + table + " values (" + places + ")")) {
                insert(insert, in);
            }
            connection.commit();
            connection.setAutoCommit(true);
            connection.createStatement().execute("drop table " + table);
        }
        return took.end();
    }

    private static void insert(PreparedStatement insert, InputStream in) throws Exception {
        CsvReader reader = new CsvReader(in);
        reader.header();
        int waiting = 0;
        for (CsvRow row = reader.next(); row != null; row = reader.next()) {
            List<String> cells = ((CsvRow.Whole) row).cells();
            for (int i = 0; i < cells.size(); i++) {
                insert.setString(i + 1, cells.get(i));
            }
            insert.addBatch();
            if (++waiting % BATCH == 0) {
                insert.executeBatch();
            }
        }
        insert.executeBatch();
    }

    private static void write(Path log) throws IOException, SQLException {
        Random random = new Random(20261125);
        try (BufferedWriter out = Files.newBufferedWriter(log)) {
            CsvWriter writer = new CsvWriter(out);
            writer.write(VisitColumn.headings());
            for (int i = 0; i < LINES; i++) {
                writer.write(line(i, random));
            }
        }
    }

    private static List<String> line(int number, Random random) {
        List<String> cells =
                new ArrayList<>(Collections.nCopies(VisitColumn.headings().size(), ""));
        LocalTime booked = LocalTime.of(9, 0).plusMinutes(20L * random.nextInt(24));
        int practitioner = 1 + random.nextInt(30);
        String method = any(random, "microsuction", "microsuction", "irrigation", "manual_removal");
        set(cells, "visit_id", String.format(Locale.ROOT, "V%06d", number));
        set(cells, "patient_ref", String.format(Locale.ROOT, "K%06d", random.nextInt(40_000)));
        set(cells, "date", LocalDate.of(2020, 1, 1).plusDays(number / 50).toString());
        set(cells, "practitioner", "P" + practitioner);
        set(cells, "room", "R" + practitioner % 10);
        set(cells, "attendance", "attended");
        set(cells, "method_planned", method);
        set(cells, "ears", "both");
        set(cells, "first_visit", any(random, "yes", "no"));
        set(cells, "hearing_aid", any(random, "yes", "no"));
        set(cells, "cautions", any(random, "", "", "tinnitus", "anticoagulant;diabetes"));
        set(cells, "softener_days", any(random, "0", "3", "5", "7"));
        for (String ear : List.of("right", "left")) {
            set(cells, ear + "_wax_reported", any(random, "", "soft", "hard"));
            set(cells, ear + "_methods", method);
            set(cells, ear + "_wax_found", any(random, "loose", "soft", "sticky", "firm", "hard"));
            set(cells, ear + "_canal_found", any(random, "wide", "average", "narrow"));
            set(cells, ear + "_depth_found", any(random, "outer_third", "deep_canal", "against_drum"));
            set(cells, ear + "_outcome", any(random, "clear", "clear", "residual"));
        }
        set(cells, "booked_start", booked.toString());
        set(cells, "slot_minutes", "20");
        set(cells, "arrived", booked.minusMinutes(random.nextInt(15)).toString());
        set(cells, "called_in", booked.plusMinutes(random.nextInt(10)).toString());
        set(cells, "finished", booked.plusMinutes(15 + random.nextInt(20)).toString());
        set(cells, "room_ready", booked.plusMinutes(36 + random.nextInt(4)).toString());
        set(cells, "stopped_early", "no");
        return cells;
    }

    private static String any(Random random, String... all) {
        return all[random.nextInt(all.length)];
    }

    private static void set(List<String> cells, String column, String value) {
        cells.set(VisitColumn.headings().indexOf(column), value);
    }
}
