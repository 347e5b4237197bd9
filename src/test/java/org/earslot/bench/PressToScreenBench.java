package org.earslot.bench;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import org.earslot.Earslot;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.testing.PostgresServer;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.testing.Visitor;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;

/**
 * From a press by one person to the re-projected page on another person's open screen: the press goes out as a form, the
 * other screen gets its notice, asks for its page, and has it whole. Beside it the page asked for without any press, in
 * the same run. On H2, on PostgreSQL, and on PostgreSQL with the two screens at two servers.
 */
public final class PressToScreenBench {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final int WARM_UP = 1;
    private static final int ROUNDS = 3;
    private static final int VISITS = 18;

    private PressToScreenBench() {}

    /** @param args {@code postgres} leaves H2 out */
    public static void main(String[] args) throws Exception {
        if (args.length == 0) {
            Path folder = Files.createTempDirectory("press-bench");
            String file = "jdbc:h2:file:" + folder.resolve("h2") + ";WRITE_DELAY=0;LOCK_TIMEOUT=10000";
            measure("H2 file, one server", file, "sa", "", false);
        }
        String url = PostgresServer.newDatabase();
        measure("PostgreSQL, one server", url, PostgresServer.user(), PostgresServer.password(), false);
        url = PostgresServer.newDatabase();
        measure("PostgreSQL, two servers", url, PostgresServer.user(), PostgresServer.password(), true);
        System.exit(0);
    }

    private static void measure(String name, String url, String user, String password, boolean two) throws Exception {
        try (ConfigurableApplicationContext first = server(url, user, password);
                ConfigurableApplicationContext second = two ? server(url, user, password) : null) {
            ConfigurableApplicationContext other = second == null ? first : second;
            TestClinics clinics = first.getBean(TestClinics.class);
            for (String screen : new String[] {"/now", ""}) {
                List<Double> whole = new ArrayList<>();
                List<Double> page = new ArrayList<>();
                for (int round = 0; round < ROUNDS; round++) {
                    TestClinic clinic = clinics.open();
                    List<UUID> list = list(first.getBean(DiaryFixture.class), clinic);
                    AccountAdministration admission = first.getBean(AccountAdministration.class);
                    Visitor desk = Visitor.signIn(port(first), admission, clinic.id(), Role.RECEPTIONIST, null);
                    Visitor chair = Visitor.signIn(port(other), admission, clinic.id(), Role.PRACTITIONER, clinic.p1());
                    run(desk, chair, list, "/day/" + TODAY + screen, round >= WARM_UP ? whole : null, page);
                }
                tell(name + ", " + (screen.isEmpty() ? "day page" : "running list"), whole, page);
            }
        }
    }

    private static void run(
            Visitor desk, Visitor chair, List<UUID> list, String page, List<Double> whole, List<Double> pageAlone)
            throws Exception {
        try (Visitor.Stream stream = chair.stream("/day/" + TODAY + "/changes")) {
            waitFor(stream, "event:open");
            chair.get(page);
            for (UUID appointment : list) {
                stream.lines().clear();
                long from = System.nanoTime();
                Thread press = new Thread(() -> {
                    try {
                        desk.post("/appointments/" + appointment + "/check-in", "back", "day");
                    } catch (Exception e) {
                        throw new IllegalStateException(e);
                    }
                });
                press.start();
                waitFor(stream, "event:changed");
                String shown = chair.getAgain(page).body();
                double took = (System.nanoTime() - from) / 1e6;
                press.join();
                if (!shown.contains("</html>")) {
                    throw new IllegalStateException("not the whole page");
                }
                long alone = System.nanoTime();
                chair.getAgain(page);
                if (whole != null) {
                    whole.add(took);
                    pageAlone.add((System.nanoTime() - alone) / 1e6);
                }
            }
        }
    }

    private static List<UUID> list(DiaryFixture fixture, TestClinic clinic) {
        List<UUID> list = new ArrayList<>();
        LocalDateTime start = TODAY.atTime(9, 0);
        for (int i = 0; i < VISITS; i++) {
            LocalDateTime at = start.plusMinutes(i * 20L + (i >= 12 ? 30 : 0));
            list.add(fixture.appointment(
                    clinic, fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH), fixture.place(clinic, at, 20)));
            list.add(fixture.appointment(
                    clinic,
                    fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT),
                    fixture.secondPlace(clinic, at, 20)));
        }
        return list;
    }

    private static ConfigurableApplicationContext server(String url, String user, String password) {
        return new SpringApplicationBuilder(Earslot.class, SettableClock.Bringing.class)
                .run(
                        "--server.port=0",
                        "--spring.main.banner-mode=off",
                        "--spring.main.allow-bean-definition-overriding=true",
                        "--logging.level.root=WARN",
                        "--spring.datasource.url=" + url,
                        "--spring.datasource.username=" + user,
                        "--spring.datasource.password=" + password);
    }

    private static int port(ConfigurableApplicationContext app) {
        SettableClock clock = app.getBean(SettableClock.class);
        clock.set(TODAY.atTime(8, 0).atZone(ZoneId.of("Europe/London")).toInstant());
        return app.getEnvironment().getRequiredProperty("local.server.port", Integer.class);
    }

    private static void waitFor(Visitor.Stream stream, String line) throws InterruptedException {
        String next = "";
        while (!line.equals(next)) {
            next = stream.lines().poll(20, TimeUnit.SECONDS);
            if (next == null) {
                throw new IllegalStateException("no " + line + " within 20 s");
            }
        }
    }

    private static void tell(String name, List<Double> whole, List<Double> page) {
        double[] press =
                whole.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        double[] alone = page.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        System.out.printf(
                Locale.ROOT,
                "%-40s press to page: median %.0f ms, 95 %% %.0f ms, most %.0f ms; page alone: median %.0f ms (%d"
                        + " presses, ratio %.2f)%n",
                name,
                press[press.length / 2],
                press[press.length * 95 / 100],
                Arrays.stream(press).max().orElseThrow(),
                alone[alone.length / 2],
                press.length,
                press[press.length / 2] / alone[alone.length / 2]);
    }
}
