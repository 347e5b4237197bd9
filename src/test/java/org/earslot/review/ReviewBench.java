package org.earslot.review;

import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Supplier;
import org.earslot.testing.PostgresServer;
import org.flywaydb.core.Flyway;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.jdbc.datasource.SingleConnectionDataSource;

/**
 * Prints how long the parts of a month's review take on PostgreSQL with 1,000,000 stored visits of one clinic, 20,000 a
 * month: {@code mvn -q test-compile exec:java -Pbench -Dexec.mainClass=org.earslot.review.ReviewBench
 * -Dexec.classpathScope=test}.
 */
public final class ReviewBench {

    private static final UUID CLINIC = new UUID(0, 1);
    private static final YearMonth MONTH = YearMonth.of(2026, 6);
    private static final int ROUNDS = 7;

    private static final String VISITS = """
            insert into visit (id, clinic_id, visit_ref, patient_ref, visit_date, practitioner_id, attendance,
              method_planned, ears, first_visit, hearing_aid, cautions, right_wax_found, booked_start, slot_minutes,
              fit_in, arrived, called_in, finished, room_ready, times_entered_later, source, version)
            select gen_random_uuid(), '00000000-0000-0000-0000-000000000001', 'V' || g, 'K' || g % 300000, day,
              cast('00000000-0000-0000-0001-' || lpad(cast(g % 25 as text), 12, '0') as uuid), 'attended',
              case g % 3 when 0 then 'manual_removal' else 'microsuction' end, 'both', 'no', 'no', '', 'hard', booked, 18,
              false, booked - interval '5 minutes', booked + g * 104729 % 13 * interval '1 minute',
              booked + (g * 104729 % 13 + 8 + g * 7919 % 17) * interval '1 minute',
              booked + (g * 104729 % 13 + 10 + g * 7919 % 17) * interval '1 minute', false, 'import', 0
            from (select g, day, (day + time '08:00' + g / 25 % 27 * interval '18 minutes') at time zone 'UTC' as booked
              from (select g, date '2022-10-01' + cast(g / 675 as integer) as day
                from generate_series(cast(0 as bigint), 999999) g) days) places""";

    private ReviewBench() {}

    public static void main(String[] args) {
        DriverManagerDataSource server = new DriverManagerDataSource(
                PostgresServer.newDatabase(), PostgresServer.user(), PostgresServer.password());
        Flyway.configure()
                .dataSource(server)
                .locations("classpath:db/migration/common", "classpath:db/migration/postgresql")
                .load()
                .migrate();
        SingleConnectionDataSource one =
                new SingleConnectionDataSource(server.getUrl(), PostgresServer.user(), PostgresServer.password(), true);
        JdbcClient database = JdbcClient.create(one);
        fill(database);
        MeasuredVisits visits = new MeasuredVisits(database);
        LocalDate first = MONTH.atDay(1);
        LocalDate last = MONTH.atEndOfMonth();
        List<MeasuredVisit> listed =
                time("visits of the month", () -> visits.between(CLINIC, first, last, Whose.EVERYONE));
        System.out.println(listed.size() + " visits in the month");
        Waits.Shared shared = time("waits shared out", () -> WaitShares.of(listed, List.of(), ZoneOffset.UTC));
        time(
                "groups",
                () -> Arrays.stream(Dimension.values())
                        .map(by -> GroupTable.of(by, listed, shared.byVisit(), ZoneOffset.UTC))
                        .toList());
        LocalDate earliest = MONTH.minusMonths(RunCharts.MONTHS - 1).atDay(1);
        time("18 months by day", () -> visits.daysBetween(CLINIC, earliest, last, Whose.EVERYONE));
        one.destroy();
    }

    private static void fill(JdbcClient database) {
        database.sql("insert into clinic (id, name, time_zone, created_at) values (:id, 'Bench', 'UTC', now())")
                .param("id", CLINIC)
                .update();
        for (int i = 0; i < 25; i++) {
            database.sql("insert into practitioner (id, clinic_id, name, methods, active)"
                            + " values (cast(:id as uuid), :clinic, :name, 'microsuction', true)")
                    .params(Map.of(
                            "id", "00000000-0000-0000-0001-" + "%012d".formatted(i), "clinic", CLINIC, "name", "P" + i))
                    .update();
        }
        database.sql(VISITS).update();
        database.sql("analyze visit").update();
    }

    private static <T> T time(String what, Supplier<T> work) {
        T result = work.get();
        double best = Double.MAX_VALUE;
        double sum = 0;
        for (int i = 0; i < ROUNDS; i++) {
            long start = System.nanoTime();
            result = work.get();
            double seconds = (System.nanoTime() - start) / 1e9;
            best = Math.min(best, seconds);
            sum += seconds;
        }
        System.out.printf("%-22s mean %.3f s, least %.3f s%n", what, sum / ROUNDS, best);
        return result;
    }
}
