package org.earslot.patient;

import java.sql.Date;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.UUID;
import java.util.function.Function;
import org.earslot.Earslot;
import org.earslot.clinic.ClinicId;
import org.earslot.testing.PostgresServer;
import org.earslot.testing.TestClinics;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.JdbcTemplate;

/**
 * How long it takes to find those who may be the same person among 100,000 named patients, on H2 (default) or, with the
 * argument {@code postgres}, on PostgreSQL; and how long the keys of 100,000 older records take to make at a start.
 */
public final class DuplicatesBench {

    private static final int PATIENTS = 100_000;
    private static final int SEARCHES = 200;
    private static final String[] STARTS = {
        "Wren", "Thack", "Sedge", "Oat", "Mar", "Ham", "Bra", "Al", "Cor", "Den", "Pell", "Jor", "Om", "Stan", "Whit",
        "Ash", "Black", "Har", "Mac", "Son"
    };
    private static final String[] MIDDLES = {"", "en", "er", "ing", "al", "or", "is", "ow", "ley", "wor"};
    private static final String[] ENDS = {
        "bottom", "wing", "quill", "lark", "son", "ton", "ley", "ham", "field", "well", "man", "ford", "by", "er", "s"
    };
    private static final String[] GIVEN = {
        "Ann", "Bel", "Cora", "Dan", "Eve", "Finn", "Gwen", "Hal", "Ida", "Jon", "Kit", "Lea", "Max", "Nell", "Otis",
        "Pam", "Ross", "Sue", "Tom", "Una"
    };

    private final Random random = new Random(11);

    private DuplicatesBench() {}

    /** What is measured with the patients in the database. */
    interface Measured {
        void run(ConfigurableApplicationContext app, ClinicId clinic, List<PatientDetails> people);
    }

    public static void main(String[] args) {
        withPatients(args, (app, clinic, people) -> new DuplicatesBench().run(app, clinic, people));
    }

    /** Starts the program on the database that {@code args} name, with 100,000 patients and their keys. */
    static void withPatients(String[] args, Measured measured) {
        boolean postgres = List.of(args).contains("postgres");
        List<String> options = new ArrayList<>(
                List.of("--server.port=0", "--spring.main.banner-mode=off", "--logging.level.root=WARN"));
        options.addAll(
                postgres
                        ? List.of(
                                "--spring.datasource.url=" + PostgresServer.newDatabase(),
                                "--spring.datasource.username=" + PostgresServer.user(),
                                "--spring.datasource.password=" + PostgresServer.password())
                        : List.of("--spring.datasource.url=jdbc:h2:mem:duplicates"));
        try (ConfigurableApplicationContext app =
                SpringApplication.run(Earslot.class, options.toArray(new String[0]))) {
            System.out.println(postgres ? "PostgreSQL" : "H2");
            ClinicId clinic = app.getBean(TestClinics.class).open().id();
            measured.run(app, clinic, new DuplicatesBench().fill(app, clinic));
        }
        System.exit(0);
    }

    private List<PatientDetails> fill(ConfigurableApplicationContext app, ClinicId clinic) {
        List<PatientDetails> people = new ArrayList<>();
        for (int i = 0; i < PATIENTS; i++) {
            people.add(person());
        }
        insert(app.getBean(JdbcTemplate.class), clinic, people);
        long start = System.nanoTime();
        app.getBean(PatientKeysMade.class).make();
        System.out.printf(
                Locale.ROOT, "keys of %d older records: %.1f s%n", PATIENTS, (System.nanoTime() - start) / 1e9);
        if (app.getEnvironment().getProperty("spring.datasource.url", "").contains("postgresql")) {
            app.getBean(JdbcTemplate.class).execute("analyze patient");
        }
        return people;
    }

    private void run(ConfigurableApplicationContext app, ClinicId clinic, List<PatientDetails> people) {
        Duplicates duplicates = app.getBean(Duplicates.class);
        time("everything known, misspelt", duplicates, clinic, people, one -> changed(one, true, true));
        time("name and date of birth", duplicates, clinic, people, one -> changed(one, true, false));
        time("name and telephone", duplicates, clinic, people, one -> changed(one, false, true));
        time("the name alone", duplicates, clinic, people, one -> changed(one, false, false));
    }

    private void time(
            String what,
            Duplicates duplicates,
            ClinicId clinic,
            List<PatientDetails> people,
            Function<PatientDetails, PatientDetails> asked) {
        double[] took = new double[SEARCHES];
        int found = 0;
        for (int i = -50; i < SEARCHES; i++) {
            PatientDetails one = people.get(random.nextInt(people.size()));
            PatientDetails question = asked.apply(one);
            long start = System.nanoTime();
            List<Duplicates.Known> known = duplicates.of(clinic, question);
            if (i >= 0) {
                took[i] = (System.nanoTime() - start) / 1e6;
                found += known.isEmpty() ? 0 : 1;
            }
        }
        Arrays.sort(took);
        System.out.printf(
                Locale.ROOT,
                "%-28s p50 %6.1f ms, p95 %6.1f ms, most %6.1f ms; someone found for %d of %d%n",
                what,
                took[SEARCHES / 2],
                took[SEARCHES * 95 / 100],
                took[SEARCHES - 1],
                found,
                SEARCHES);
    }

    private PatientDetails person() {
        String family = pick(STARTS).concat(pick(MIDDLES)).concat(pick(ENDS));
        LocalDate born =
                random.nextInt(10) == 0 ? null : LocalDate.of(1930, 1, 1).plusDays(random.nextInt(80 * 365));
        String phone = random.nextInt(5) == 0 ? null : "01632 " + (100_000 + random.nextInt(900_000));
        return LikenessTest.person(family, pick(GIVEN), born, phone);
    }

    /** A letter of the family name left out, somewhere; born and phone as on record, or not said. */
    private PatientDetails changed(PatientDetails one, boolean born, boolean phone) {
        String family = String.valueOf(one.familyName());
        int gone = random.nextInt(family.length());
        return LikenessTest.person(
                family.substring(0, gone) + family.substring(gone + 1),
                one.givenName(),
                born ? one.dateOfBirth() : null,
                phone ? one.contact() : null);
    }

    private String pick(String[] from) {
        return from[random.nextInt(from.length)];
    }

    private static void insert(JdbcTemplate jdbc, ClinicId clinic, List<PatientDetails> people) {
        OffsetDateTime now = OffsetDateTime.parse("2026-03-03T09:00:00Z");
        List<Object[]> rows = new ArrayList<>();
        for (int i = 0; i < people.size(); i++) {
            PatientDetails one = people.get(i);
            LocalDate born = one.dateOfBirth();
            rows.add(new Object[] {
                UUID.randomUUID(),
                clinic.value(),
                "B" + i,
                one.familyName(),
                one.givenName(),
                born == null ? null : Date.valueOf(born),
                one.contact(),
                now
            });
        }
        for (int i = 0; i < rows.size(); i += 1000) {
            jdbc.batchUpdate("""
                    insert into patient (id, clinic_id, local_number, family_name, given_name, date_of_birth, contact,
                        created_at, contact_permission, preferred_route, hearing_aid, version, keys_version)
                    values (?, ?, ?, ?, ?, ?, ?, ?, 'not_known', 'not_known', 'not_known', 0, 0)""", rows.subList(i, Math.min(i + 1000, rows.size())));
        }
    }
}
