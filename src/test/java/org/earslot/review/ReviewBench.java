package org.earslot.review;

import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.concurrent.Callable;
import org.earslot.Earslot;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
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
 * How long the review of a month takes over HTTP on PostgreSQL with 1,000,000 stored visits of one clinic, 20,000 a month
 * and each with its promise, beside 400,000 appointments of as many referrals: the lead's page with what is kept, and after a correction of the month,
 * what to change by itself, a practitioner's page; beside it, in the same run, only adding up the visits of 18 months by
 * day, as one statement. Aim: 0.5 s.
 *
 * <p>{@code mvn -Pbench test-compile exec:exec -Dbench=org.earslot.review.ReviewBench}; with {@code -Dbench.args=learnt} the
 * estimator is fitted on the visits first, and what to change speaks of slots too.
 */
public final class ReviewBench {

    private static final UUID CLINIC = new UUID(0, 1);
    private static final YearMonth MONTH = YearMonth.of(2026, 6);
    private static final int ROUNDS = 40;

    /** A line of figures begins no further round after so many seconds, so that the whole ends within minutes. */
    private static final double LONGEST = 15;

    private static final String PEOPLE = """
            insert into practitioner (id, clinic_id, name, methods, active)
            select cast('00000000-0000-0000-0001-' || lpad(cast(g as text), 12, '0') as uuid), :clinic,
              'P' || g, 'microsuction', true from generate_series(0, 24) g""";

    private static final String ROOMS = """
            insert into room (id, clinic_id, name, active)
            select cast('00000000-0000-0000-0002-' || lpad(cast(g as text), 12, '0') as uuid), :clinic, 'R' || g, true
            from generate_series(0, 24) g""";

    private static final String SESSIONS = """
            insert into weekly_session (id, clinic_id, practitioner_id, room_id, day_of_week, starts, ends, valid_from)
            select gen_random_uuid(), :clinic,
              cast('00000000-0000-0000-0001-' || lpad(cast(g as text), 12, '0') as uuid),
              cast('00000000-0000-0000-0002-' || lpad(cast(g as text), 12, '0') as uuid), day, '08:00', '16:30', '2020-01-01'
            from generate_series(0, 24) g, generate_series(1, 7) day""";

    private static final String VISITS = """
            insert into visit (id, clinic_id, visit_ref, patient_ref, visit_date, practitioner_id, attendance,
              method_planned, ears, first_visit, hearing_aid, cautions, right_wax_found, right_canal_found, right_outcome,
              left_outcome, stopped_early, referrer, booked_start, slot_minutes, fit_in, arrived, called_in, finished,
              room_ready, times_entered_later, promised_quantiles, source, version)
            select gen_random_uuid(), :clinic, 'V' || g, 'K' || g % 300000, day,
              cast('00000000-0000-0000-0001-' || lpad(cast(g % 25 as text), 12, '0') as uuid),
              case g % 40 when 7 then 'did_not_attend' else 'attended' end,
              case g % 3 when 0 then 'manual_removal' else 'microsuction' end, case g % 2 when 0 then 'both' else 'left' end,
              'no', 'no', '', 'hard', 'narrow', 'clear', 'residual', case g % 50 when 3 then 'time' else 'no' end,
              'Practice ' || g % 60, booked, 18, false, booked - interval '5 minutes',
              case when g % 40 <> 7 then booked + g * 104729 % 13 * interval '1 minute' end,
              case when g % 40 <> 7 then booked + (g * 104729 % 13 + 8 + g * 7919 % 17) * interval '1 minute' end,
              case when g % 40 <> 7 then booked + (g * 104729 % 13 + 10 + g * 7919 % 17) * interval '1 minute' end, false,
              '{"version":"2026-01-01.abcdef12","slotMinutes":18,"mean":15.9,"sd":5.2,"completion":{"0.1":9.7,"0.25":12.1,'
                || '"0.5":15.2,"0.75":19.1,"0.8":20.2,"0.9":23.9,"0.95":27.3},"inRoom":{"0.1":9.7,"0.25":12.0,"0.5":15.1,'
                || '"0.75":18.9,"0.8":20.0,"0.9":23.6,"0.95":27.0},"sharedSdLog":0.16}', 'clinic', 0
            from (select g, day, (day + time '08:00' + g / 25 % 27 * interval '18 minutes') at time zone 'UTC' as booked
              from (select g, date '2022-06-28' + cast(g / 675 as integer) as day
                from generate_series(cast(0 as bigint), 999999) g) days) places""";

    private static final String PATIENTS = """
            insert into patient (id, clinic_id, local_number, contact_permission, preferred_route, hearing_aid, created_at,
              version)
            select cast('00000000-0000-0000-0003-' || lpad(cast(g as text), 12, '0') as uuid), :clinic, 'K' || g, 'yes',
              'letter', 'no', now(), 0 from generate_series(0, 9999) g""";

    private static final String REFERRALS = """
            insert into referral (id, clinic_id, patient_id, received_on, priority, ears, method_planned, first_visit,
              cautions_asked, status, created_at, version)
            select cast('00000000-0000-0000-0004-' || lpad(cast(g as text), 12, '0') as uuid), :clinic,
              cast('00000000-0000-0000-0003-' || lpad(cast(g % 10000 as text), 12, '0') as uuid),
              date '2024-11-05' + cast(g / 675 as integer), 'routine', 'left', 'microsuction', 'no', true, 'closed', now(), 0
            from generate_series(0, 399999) g""";

    private static final String APPOINTMENTS = """
            insert into appointment (id, clinic_id, referral_id, patient_id, practitioner_id, room_id, clinic_date, starts_at,
              ends_at, slot_minutes, method_planned, ears, fit_in, status, holds_place, confirmed, booked_by, booked_at,
              version)
            select gen_random_uuid(), :clinic, cast('00000000-0000-0000-0004-' || lpad(cast(g as text), 12, '0') as uuid),
              cast('00000000-0000-0000-0003-' || lpad(cast(g % 10000 as text), 12, '0') as uuid),
              cast('00000000-0000-0000-0001-' || lpad(cast(g % 25 as text), 12, '0') as uuid),
              cast('00000000-0000-0000-0002-' || lpad(cast(g % 25 as text), 12, '0') as uuid),
              day, day + time '08:00', day + time '08:18', 18, 'microsuction', 'left', false, 'fulfilled', false, true,
              'desk', booked, 0
            from (select g, date '2024-11-05' + cast(g / 675 as integer) + cast(14 + g * 7919 % 30 as integer) as day,
                timestamp with time zone '2024-11-05 10:00Z' + g / 675 * interval '1 day' as booked
              from generate_series(cast(0 as bigint), 399999) g) places""";

    /** The waits and overruns of 18 months by day, straight from the visits. */
    private static final String PLAIN = """
            select visit_date, count(waited), sum(waited), sum(case when waited > 10 then 1 else 0 end),
              count(minutes_over), sum(case when minutes_over > 0 then 1 else 0 end)
            from (select visit_date,
                case when called_in is not null then
                  greatest(0, extract(epoch from called_in - greatest(booked_start, arrived))) / 60.0 end as waited,
                case when finished is not null and not fit_in then
                  greatest(0, extract(epoch from room_ready - may_last)) / 60.0 end as minutes_over
              from (select visit.*, coalesce(min(booked_start) over (partition by practitioner_id, visit_date
                  order by booked_start range between interval '1' second following and unbounded following),
                  booked_start + slot_minutes * interval '1' minute) as may_last
                from visit where clinic_id = :clinic and visit_date between :first and :last
                  and attendance in ('attended', 'attended_late')) listed) figured
            group by visit_date""";

    private ReviewBench() {}

    public static void main(String[] args) throws Exception {
        try (ConfigurableApplicationContext app = new SpringApplicationBuilder(
                        Earslot.class, SettableClock.Bringing.class)
                .run(
                        "--server.port=0",
                        "--spring.main.banner-mode=off",
                        "--spring.main.allow-bean-definition-overriding=true",
                        "--logging.level.root=WARN",
                        "--earslot.reviews.ahead=PT24H",
                        // No fit of the night may begin while a slow machine is still measuring.
                        "--earslot.fits.nightly=23:59",
                        "--spring.datasource.url=" + PostgresServer.newDatabase(),
                        "--spring.datasource.username=" + PostgresServer.user(),
                        "--spring.datasource.password=" + PostgresServer.password())) {
            app.getBean(SettableClock.class).set(Instant.parse("2026-07-20T09:00:00Z"));
            JdbcClient database = app.getBean(JdbcClient.class);
            fill(database, app.getBean(Policies.class), app.getBean(TransactionTemplate.class));
            int port = app.getEnvironment().getRequiredProperty("local.server.port", Integer.class);
            AccountAdministration admission = app.getBean(AccountAdministration.class);
            Visitor lead = Visitor.signIn(port, admission, CLINIC, Role.LEAD, null);
            Visitor own = Visitor.signIn(
                    port,
                    admission,
                    CLINIC,
                    Role.PRACTITIONER,
                    UUID.fromString("00000000-0000-0000-0001-000000000003"));
            if (List.of(args).contains("learnt")) {
                tell(
                        "fit",
                        1,
                        () -> app.getBean(Fits.class).fit(CLINIC).version().length());
            }
            measure(database, app.getBean(MonthsAhead.class), lead, own);
        }
        System.exit(0);
    }

    private static void measure(JdbcClient database, MonthsAhead ahead, Visitor lead, Visitor own) throws Exception {
        String page = "/review/" + MONTH;
        tell("all months worked out ahead", 1, () -> ahead.workOut(CLINIC) ? 1 : 0);
        tell("lead's page, kept, first reads", 20, () -> read(lead, page));
        tell("lead's page, kept", ROUNDS, () -> read(lead, page));
        tell("lead's page after a correction of its month", 9, () -> read(lead, page), () -> correct(database));
        tell("what to change, then worked out anew", 5, () -> read(lead, page + "/change"), () -> correct(database));
        tell("lead's page of the running month", 9, () -> read(lead, "/review/" + MONTH.plusMonths(1)));
        tell("owner's page", ROUNDS, () -> read(lead, page + "/owner"));
        tell("practitioner's page, nothing kept yet", 1, () -> read(own, page));
        tell("practitioner's page, kept", ROUNDS, () -> read(own, page));
        tell("practitioner's page after a correction", 9, () -> read(own, page), () -> correct(database));
        tell(
                "reference: 18 months by day, SQL alone",
                9,
                () -> database.sql(PLAIN)
                        .param("clinic", CLINIC)
                        .param("first", MONTH.minusMonths(17).atDay(1))
                        .param("last", MONTH.atEndOfMonth())
                        .query((row, number) -> row.getObject(1, LocalDate.class))
                        .list()
                        .size());
    }

    private static int read(Visitor who, String path) throws Exception {
        var answer = who.get(path);
        if (answer.statusCode() != 200 || !answer.body().contains("</html>")) {
            throw new IllegalStateException(path + " answers " + answer.statusCode());
        }
        return answer.body().length();
    }

    /** What the server notes of a correction made through it. */
    private static void correct(JdbcClient database) {
        database.sql(
                        "insert into past_visit_change (clinic_id, visit_month, visit_date) values (:clinic, :month, :day)")
                .param("clinic", CLINIC)
                .param("month", MONTH.toString())
                .param("day", MONTH.atDay(17))
                .update();
    }

    private static void fill(JdbcClient database, Policies policies, TransactionTemplate inTransaction) {
        database.sql("insert into clinic (id, name, time_zone, created_at) values (:id, 'Bench', 'UTC', now())")
                .param("id", CLINIC)
                .update();
        policies.save(Policy.starting(CLINIC));
        inTransaction.executeWithoutResult(status -> {
            // The rows refer to each other as they should; checking each would only take time.
            database.sql("set local session_replication_role = replica").update();
            for (String rows : new String[] {PEOPLE, ROOMS, SESSIONS, VISITS, PATIENTS, REFERRALS, APPOINTMENTS}) {
                database.sql(rows).param("clinic", CLINIC).update();
            }
        });
        database.sql("vacuum analyze").update();
        System.out.printf(
                "%d visits, %d of them in the month%n",
                database.sql("select count(*) from visit").query(Integer.class).single(),
                database.sql("select count(*) from visit where visit_date between :first and :last")
                        .param("first", MONTH.atDay(1))
                        .param("last", MONTH.atEndOfMonth())
                        .query(Integer.class)
                        .single());
    }

    private static void tell(String what, int rounds, Callable<Integer> work) throws Exception {
        tell(what, rounds, work, () -> {});
    }

    private static void tell(String what, int most, Callable<Integer> work, Runnable before) throws Exception {
        double[] seconds = new double[most];
        int rounds = 0;
        long first = System.nanoTime();
        while (rounds < most && (rounds == 0 || (System.nanoTime() - first) / 1e9 < LONGEST)) {
            before.run();
            long start = System.nanoTime();
            work.call();
            seconds[rounds++] = (System.nanoTime() - start) / 1e9;
        }
        seconds = Arrays.copyOf(seconds, rounds);
        Arrays.sort(seconds);
        System.out.printf(
                Locale.ROOT,
                "%-42s %3d times: p50 %.3f s, p95 %.3f s, most %.3f s%n",
                what,
                rounds,
                seconds[(rounds - 1) / 2],
                seconds[(int) Math.ceil(rounds * 0.95) - 1],
                seconds[rounds - 1]);
    }
}
