package org.earslot.review;

import java.time.Instant;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.UUID;
import java.util.stream.IntStream;
import org.earslot.Earslot;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.estimate.Fits;
import org.earslot.testing.PostgresServer;
import org.earslot.testing.SettableClock;
import org.earslot.testing.Visitor;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * How long the page of a month's review takes over HTTP on PostgreSQL with 1,000,000 stored visits of 20 clinics, about 870 a
 * month in each over almost five years, each with an estimate of its own, beside 400,000 appointments of as many referrals:
 * the lead's page with what to change, a practitioner's and the owner's, of clinics and months drawn at random, each
 * read for the first time and once more. Aim: 0.5 s at the 95th percentile.
 *
 * <p>{@code mvn -Pbench test-compile exec:exec -Dbench=org.earslot.review.ReviewBench}. The estimator is fitted on the visits
 * of {@value #LEARNT} of the clinics, and their months are read, so that what to change speaks of slots too.
 */
public final class ReviewBench {

    private static final int CLINICS = 20;
    private static final int LEARNT = 5;
    private static final int READ = 100;

    /** Months with 18 months of visits up to them, the latest but the running one last. */
    private static final List<YearMonth> MONTHS = IntStream.rangeClosed(0, 38)
            .mapToObj(back -> YearMonth.of(2026, 6).minusMonths(back))
            .toList();

    /** A number from 0 to below {@code m} that looks drawn at random, the same for the same {@code n} and {@code what}. */
    private static final String PICK = """
            create function pick(n bigint, what int, m int) returns int language sql immutable parallel safe
            as 'select cast((hashint8extended(n, what) & 2147483647) % m as int)'""";

    private static final String ID = "cast('000000' || lpad(to_hex(:number), 2, '0') || '-0000-0000-000%d-'"
            + " || lpad(cast(%s as text), 12, '0') as uuid)";

    private static final String PEOPLE = "insert into practitioner (id, clinic_id, name, methods, active) select "
            + ID.formatted(1, "g") + ", :clinic, 'P' || g, 'microsuction', true from generate_series(0, 3) g";

    private static final String ROOMS = "insert into room (id, clinic_id, name, active) select " + ID.formatted(2, "g")
            + ", :clinic, 'R' || g, true from generate_series(0, 3) g";

    private static final String SESSIONS =
            "insert into weekly_session (id, clinic_id, practitioner_id, room_id, day_of_week, starts, ends, valid_from)"
                    + " select gen_random_uuid(), :clinic, " + ID.formatted(1, "g") + ", " + ID.formatted(2, "g")
                    + ", day, '08:00', '13:00', '2020-01-01' from generate_series(0, 3) g, generate_series(1, 5) day";

    private static final String VISITS = """
            insert into visit (id, clinic_id, visit_ref, patient_ref, visit_date, practitioner_id, attendance,
              method_planned, ears, first_visit, hearing_aid, cautions, softener_days, right_wax_reported,
              left_wax_reported, right_wax_found, right_canal_found, left_wax_found, right_outcome, left_outcome,
              stopped_early, referrer, booked_start, slot_minutes, fit_in, arrived, called_in, finished, room_ready,
              times_entered_later, estimated_quantiles, estimate_version, source, version)
            select gen_random_uuid(), :clinic, 'V' || g, 'K' || pick(n, 1, 15000), day, PRACTITIONER,
              case when absent then 'did_not_attend' else 'attended' end, method, ears,
              (array['yes', 'no', 'not_known'])[1 + pick(n, 2, 3)], (array['yes', 'no', 'not_known'])[1 + pick(n, 3, 3)],
              '', case when pick(n, 4, 2) = 0 then pick(n, 5, 10) end,
              case when ears <> 'left' then (array['loose', 'soft', 'firm', 'hard', null])[1 + pick(n, 6, 5)] end,
              case when ears <> 'right' then (array['loose', 'soft', 'firm', 'hard', null])[1 + pick(n, 7, 5)] end,
              case when ears <> 'left' then wax end,
              case when ears <> 'left' then (array['wide', 'average', 'narrow'])[1 + pick(n, 8, 3)] end,
              case when ears <> 'right' then wax end,
              case when ears <> 'left' then (array['clear', 'clear', 'residual'])[1 + pick(n, 9, 3)] end,
              case when ears <> 'right' then (array['clear', 'clear', 'residual'])[1 + pick(n, 10, 3)] end,
              case pick(n, 11, 50) when 3 then 'time' else 'no' end, 'Practice ' || pick(n, 12, 60), booked, slot, false,
              booked + (pick(n, 13, 15) - 12) * interval '1 minute',
              case when not absent then booked + late * interval '1 minute' end,
              case when not absent then booked + (late + lasts) * interval '1 minute' end,
              case when not absent then booked + (late + lasts + 2) * interval '1 minute' end, false,
              format('{"version":"2026-01-01.abcdef12","slotMinutes":%s,"mean":%s,"sd":5.2,"completion":{"0.1":%s,"0.25":%s,'
                || '"0.5":%s,"0.75":%s,"0.8":%s,"0.9":%s,"0.95":%s},"inRoom":{"0.1":%s,"0.25":%s,"0.5":%s,"0.75":%s,"0.8":%s,'
                || '"0.9":%s,"0.95":%s},"sharedSdLog":0.16}', slot, q + 0.7, q - 5.5, q - 3, q, q + 4, q + 5, q + 8.5, q + 12,
                q - 5.6, q - 3.1, q - 0.1, q + 3.8, q + 4.9, q + 8.3, q + 11.8),
              '2026-01-01.abcdef12', 'clinic', 0
            from (select *, (day + time '08:00' + g % 40 / 4 * interval '30 minutes') at time zone 'UTC' as booked,
                (array['loose', 'soft', 'firm', 'hard'])[1 + pick(n, 14, 4)] as wax, pick(n, 15, 40) = 7 as absent,
                pick(n, 16, 13) as late, 10 + 5 * pick(n, 17, 4) as slot,
                6 + pick(n, 14, 4) * 3 + pick(n, 18, 8) + case ears when 'both' then 6 else 0 end as lasts,
                12 + pick(n, 20, 900) / 100.0 as q
              from (select g, n, date '2021-10-04' + cast(7 * (g / 200) + g / 40 % 5 as integer) as day,
                  (array['microsuction', 'microsuction', 'irrigation', 'manual_removal'])[1 + pick(n, 21, 4)] as method,
                  (array['both', 'both', 'left', 'right'])[1 + pick(n, 22, 4)] as ears
                from (select g, :number * cast(1000000 as bigint) + g as n
                  from generate_series(cast(0 as bigint), 49999) g) numbers) days) visits""".replace("PRACTITIONER", ID.formatted(1, "g % 4"));

    private static final String PATIENTS =
            "insert into patient (id, clinic_id, local_number, contact_permission, preferred_route, hearing_aid, created_at,"
                    + " version) select " + ID.formatted(3, "g")
                    + ", :clinic, 'K' || g, 'yes', 'letter', 'no', now(), 0 from generate_series(0, 14999) g";

    private static final String REFERRALS =
            "insert into referral (id, clinic_id, patient_id, received_on, priority, ears, method_planned, first_visit,"
                    + " cautions_asked, status, created_at, version) select " + ID.formatted(4, "g") + ", :clinic, "
                    + ID.formatted(3, "g % 15000") + ", date '2023-11-01' + cast(g / 20 as integer), 'routine', 'left',"
                    + " 'microsuction', 'no', true, 'closed', now(), 0 from generate_series(0, 19999) g";

    private static final String APPOINTMENTS =
            "insert into appointment (id, clinic_id, referral_id, patient_id, practitioner_id, room_id, clinic_date,"
                    + " starts_at, ends_at, slot_minutes, method_planned, ears, fit_in, status, holds_place, confirmed,"
                    + " times_entered_later, booked_by, booked_at, version) select gen_random_uuid(), :clinic, "
                    + ID.formatted(4, "g")
                    + ", "
                    + ID.formatted(3, "g % 15000") + ", " + ID.formatted(1, "g % 4") + ", " + ID.formatted(2, "g % 4")
                    + ", day, day + time '08:00', day + time '08:18', 18, 'microsuction', 'left', false, 'fulfilled',"
                    + " false, true, false, 'desk', booked, 0 from (select g, date '2023-11-01' + cast(g / 20 as integer)"
                    + " + cast(14 + pick(g, 1, 30) as integer) as day, timestamp with time zone '2023-11-01 10:00Z'"
                    + " + g / 20 * interval '1 day' as booked from generate_series(cast(0 as bigint), 19999) g) places";

    private ReviewBench() {}

    public static void main(String[] args) throws Exception {
        try (ConfigurableApplicationContext app = new SpringApplicationBuilder(
                        Earslot.class, SettableClock.Bringing.class)
                .run(
                        "--server.port=0",
                        "--spring.main.banner-mode=off",
                        "--spring.main.allow-bean-definition-overriding=true",
                        "--logging.level.root=WARN",
                        // No fit of the night may begin while a slow machine is still measuring.
                        "--earslot.fits.nightly=23:59",
                        "--spring.datasource.url=" + PostgresServer.newDatabase(),
                        "--spring.datasource.username=" + PostgresServer.user(),
                        "--spring.datasource.password=" + PostgresServer.password())) {
            app.getBean(SettableClock.class).set(Instant.parse("2026-07-20T09:00:00Z"));
            fill(app.getBean(JdbcClient.class), app.getBean(Policies.class), app.getBean(TransactionTemplate.class));
            Fits fits = app.getBean(Fits.class);
            long start = System.nanoTime();
            for (int clinic = 0; clinic < LEARNT; clinic++) {
                fits.fit(clinic(clinic));
            }
            System.out.printf(Locale.ROOT, "%d fits, %.0f s%n", LEARNT, (System.nanoTime() - start) / 1e9);
            measure(
                    app.getEnvironment().getRequiredProperty("local.server.port", Integer.class),
                    app.getBean(AccountAdministration.class));
        }
        System.exit(0);
    }

    private static ClinicId clinic(int number) {
        return new ClinicId(new UUID(0, number + 1L));
    }

    private record Page(Visitor reader, String path) {}

    private static void measure(int port, AccountAdministration admission) throws Exception {
        List<Page> lead = new ArrayList<>();
        List<Page> owner = new ArrayList<>();
        List<Page> own = new ArrayList<>();
        for (int clinic = 0; clinic < LEARNT; clinic++) {
            Visitor leader = Visitor.signIn(port, admission, clinic(clinic), Role.LEAD, null);
            UUID practitioner = UUID.fromString("000000%02x-0000-0000-0001-000000000003".formatted(clinic));
            Visitor one = Visitor.signIn(port, admission, clinic(clinic), Role.PRACTITIONER, practitioner);
            for (YearMonth month : MONTHS) {
                lead.add(new Page(leader, "/review/" + month));
                owner.add(new Page(leader, "/review/" + month + "/owner"));
                own.add(new Page(one, "/review/" + month));
            }
        }
        Random drawn = new Random(20260630);
        for (List<Page> pages : List.of(lead, owner, own)) {
            Collections.shuffle(pages, drawn);
        }
        // A program that has just started is slow at whatever it is asked.
        tell("(lead's page, in a program just started)", lead.subList(READ, READ + 60));
        tell("lead's page, first read", lead.subList(0, READ));
        tell("lead's page, read again", lead.subList(0, READ));
        tell("owner's page, first read", owner.subList(0, READ));
        tell("practitioner's page, first read", own.subList(0, READ));
    }

    private static void tell(String what, List<Page> pages) throws Exception {
        double[] seconds = new double[pages.size()];
        for (int i = 0; i < seconds.length; i++) {
            long start = System.nanoTime();
            read(pages.get(i));
            seconds[i] = (System.nanoTime() - start) / 1e9;
        }
        Arrays.sort(seconds);
        System.out.printf(
                Locale.ROOT,
                "%-42s %3d pages: p50 %.3f s, p95 %.3f s, most %.3f s%n",
                what,
                seconds.length,
                seconds[(seconds.length - 1) / 2],
                seconds[(int) Math.ceil(seconds.length * 0.95) - 1],
                seconds[seconds.length - 1]);
    }

    private static void read(Page page) throws Exception {
        var answer = page.reader().get(page.path());
        if (answer.statusCode() != 200 || !answer.body().contains("</html>")) {
            throw new IllegalStateException(page.path() + " answers " + answer.statusCode());
        }
    }

    private static void fill(JdbcClient database, Policies policies, TransactionTemplate inTransaction) {
        database.sql(PICK).update();
        for (int number = 0; number < CLINICS; number++) {
            ClinicId clinic = clinic(number);
            database.sql("insert into clinic (id, name, time_zone, created_at) values (:id, 'Bench', 'UTC', now())")
                    .param("id", clinic.value())
                    .update();
            policies.save(Policy.starting(clinic));
            int so = number;
            inTransaction.executeWithoutResult(status -> {
                // The rows refer to each other as they should; checking each would only take time.
                database.sql("set local session_replication_role = replica").update();
                for (String rows : new String[] {PEOPLE, ROOMS, SESSIONS, VISITS, PATIENTS, REFERRALS, APPOINTMENTS}) {
                    database.sql(rows)
                            .param("clinic", clinic.value())
                            .param("number", so)
                            .update();
                }
            });
        }
        database.sql("vacuum analyze").update();
        System.out.printf(
                "%d visits of %d clinics%n",
                database.sql("select count(*) from visit").query(Integer.class).single(), CLINICS);
    }
}
