package org.earslot.patient;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.function.Function;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.JdbcTemplate;

/**
 * How long a search for one of 100,000 patients takes, on H2 (default) or, with the argument {@code postgres}, on
 * PostgreSQL; beside reading one patient by the local number in the same run.
 */
public final class SearchBench {

    private static final int SEARCHES = 200;
    private static final LocalDate TODAY = LocalDate.of(2026, 11, 30);

    private final Random random = new Random(12);

    private SearchBench() {}

    public static void main(String[] args) {
        DuplicatesBench.withPatients(args, (app, clinic, people) -> new SearchBench().run(app, clinic, people));
    }

    private void run(ConfigurableApplicationContext app, ClinicId clinic, List<PatientDetails> people) {
        PatientSearch search = app.getBean(PatientSearch.class);
        Patients patients = app.getBean(Patients.class);
        System.out.printf(
                "%d patients%n",
                app.getBean(JdbcTemplate.class).queryForObject("select count(*) from patient", Integer.class));
        double reference = time(
                "one by the local number",
                people,
                one -> "B" + random.nextInt(people.size()),
                typed -> patients.findByClinicIdAndLocalNumber(clinic, typed).isPresent());
        Function<String, Boolean> find =
                typed -> !search.find(clinic, typed, TODAY).patients().isEmpty();
        double worst = 0;
        worst = Math.max(worst, time("three letters", people, one -> first(family(one), 3), find));
        worst = Math.max(worst, time("family name", people, SearchBench::family, find));
        worst = Math.max(
                worst,
                time("part of both names", people, one -> first(given(one), 3) + " " + first(family(one), 4), find));
        worst = Math.max(
                worst,
                time(
                        "end of the name",
                        people,
                        one -> family(one).substring(family(one).length() / 2),
                        find));
        worst = Math.max(worst, time("one letter wrong", people, this::wrong, find));
        worst = Math.max(worst, time("both, one letter wrong", people, one -> wrong(one) + " " + given(one), find));
        worst = Math.max(worst, time("date of birth", people, one -> born(one), find));
        worst = Math.max(
                worst, time("telephone", people, one -> one.contact() == null ? "01632 960000" : one.contact(), find));
        worst = Math.max(worst, time("nobody", people, one -> "zzyzx", find));
        System.out.printf(
                Locale.ROOT, "slowest p95 %.1f ms, %.0f times the p95 of reading one%n", worst, worst / reference);
    }

    private double time(
            String what,
            List<PatientDetails> people,
            Function<PatientDetails, String> asked,
            Function<String, Boolean> find) {
        double[] took = new double[SEARCHES];
        int found = 0;
        for (int i = -30; i < SEARCHES; i++) {
            String typed = asked.apply(people.get(random.nextInt(people.size())));
            long start = System.nanoTime();
            boolean someone = find.apply(typed);
            if (i >= 0) {
                took[i] = (System.nanoTime() - start) / 1e6;
                found += someone ? 1 : 0;
            }
        }
        Arrays.sort(took);
        double p95 = took[SEARCHES * 95 / 100];
        System.out.printf(
                Locale.ROOT,
                "%-24s p50 %6.1f ms, p95 %6.1f ms, most %6.1f ms; someone found for %d of %d%n",
                what,
                took[SEARCHES / 2],
                p95,
                took[SEARCHES - 1],
                found,
                SEARCHES);
        return p95;
    }

    private String wrong(PatientDetails one) {
        String family = family(one);
        int at = random.nextInt(family.length());
        return family.substring(0, at) + (char) ('a' + random.nextInt(26)) + family.substring(at + 1);
    }

    private static String family(PatientDetails one) {
        return String.valueOf(one.familyName());
    }

    private static String given(PatientDetails one) {
        return String.valueOf(one.givenName());
    }

    private static String born(PatientDetails one) {
        LocalDate born = one.dateOfBirth() == null ? LocalDate.of(1951, 3, 14) : one.dateOfBirth();
        return born.format(DateTimeFormatter.ofPattern("d/M/yyyy"));
    }

    private static String first(String name, int letters) {
        return name.substring(0, Math.min(letters, name.length()));
    }
}
