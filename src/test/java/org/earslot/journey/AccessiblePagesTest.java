package org.earslot.journey;

import static java.util.stream.Collectors.joining;

import com.deque.html.axecore.results.Rule;
import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import org.assertj.core.api.SoftAssertions;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageWalk;
import org.earslot.testing.ServerTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/**
 * No rule of axe-core is broken on any page that links lead to, with every folded part open, nor in states that follow a
 * press: something found or refused. {@link DayInteractionsTest} looks at the pages of the day.
 */
@ServerTest
class AccessiblePagesTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);

    /** The imported log ends on 20 August. */
    private static final Instant AFTER_THE_LOG = Instant.parse("2026-09-01T09:00:00Z");

    /** What a walk may leave out: files, other programs' addresses, the day, and the end of it. */
    private static final String NOT_WALKED = "^/(day|api|webjars|sign-out)([/?].*)?$|.*(\\.csv|/export.*|\\?print.*)$";

    private static final int MOST = 120;

    @LocalServerPort
    private int port;

    @TempDir
    private Path folder;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Referrals referrals;

    @Autowired
    private RunningDay running;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private UUID tomorrow;
    private UUID cancelled;
    private Referral ready;

    @BeforeEach
    void a_clinic_in_which_everything_has_happened_once() {
        clock.set(at("09:10"));
        clinic = clinics.open();
        Patient quenderby = fixture.patient(clinic, "Quenderby", "Pat");
        fixture.patient(clinic, "Quenderbey", "Pat");
        ready = referral(quenderby);
        Referral waiting = referral(fixture.patient(clinic, "Marrowbyfield", "Pell"));
        waiting.setStatus(ReferralStatus.WAITING);
        referrals.saveAndFlush(waiting);
        UUID seen = booked("Thistledownham", TODAY, "09:30");
        UUID missed = booked("Ashwhistle", TODAY, "10:00");
        tomorrow = booked("Birchpocket", TODAY.plusDays(1), "09:30");
        cancelled = booked("Cedarlark", TODAY.plusDays(1), "10:30");
        clock.set(at("09:30"));
        running.record(clinic.id(), seen, ClockEvent.ARRIVED);
        running.record(clinic.id(), seen, ClockEvent.CALLED_IN);
        clock.set(at("09:50"));
        running.record(clinic.id(), seen, ClockEvent.FINISHED);
        clock.set(at("10:40"));
        running.didNotAttend(clinic.id(), missed, null);
    }

    @Test
    void before_anybody_has_signed_in() throws IOException {
        SoftAssertions all = new SoftAssertions();
        WebBrowser.tell(folder.resolve("profile"), port, "accessible-where-it-stopped", browser -> {
            for (String page : List.of("/sign-in", "/first-sign-in", "/no-such-page")) {
                browser.go(page);
                look(browser, page, all);
            }
            browser.go("/sign-in");
            browser.type("username", "nobody");
            browser.type("password", "wrong");
            browser.leaveBy(By.cssSelector("main form button"));
            look(browser, "sign-in refused", all);
        });
        all.assertAll();
    }

    @Test
    void for_a_practitioner() throws IOException {
        SoftAssertions all = new SoftAssertions();
        as(Role.PRACTITIONER, browser -> {
            states(browser, all);
            Set<String> seen = walk(
                    browser,
                    all,
                    "/appointments/" + tomorrow,
                    "/appointments/" + cancelled,
                    "/appointments/" + cancelled + "/gap",
                    "/appointments/" + tomorrow + "/letters/confirmation",
                    "/slots?appointment=" + tomorrow,
                    "/slots/methods?referral=" + ready.id(),
                    "/referrals",
                    "/patients",
                    "/kit",
                    "/estimate",
                    "/review",
                    "/password");
            all.assertThat(seen)
                    .contains(
                            "/referrals/ID",
                            "/referrals/ID/edit",
                            "/patients/ID",
                            "/appointments/ID",
                            "/appointments/ID/gap",
                            "/appointments/ID/letters/confirmation",
                            "/slots?referral=ID",
                            "/slots?appointment=ID",
                            "/slots/methods?referral=ID");
        });
        all.assertAll();
    }

    @Test
    void for_a_lead() throws IOException {
        clock.set(AFTER_THE_LOG);
        SoftAssertions all = new SoftAssertions();
        as(Role.LEAD, browser -> {
            importsALog(browser, all);
            Set<String> seen = walk(
                    browser,
                    all,
                    "/setup",
                    "/setup/begin",
                    "/setup/kit",
                    "/accounts",
                    "/second-factor",
                    "/plan",
                    "/estimator",
                    "/import",
                    "/audit",
                    "/review/2026-07",
                    "/review/2026-07/owner",
                    "/review/2026-07/change");
            all.assertThat(seen)
                    .contains(
                            "/setup/cautions",
                            "/setup/letters/KIND",
                            "/setup/red-flags",
                            "/setup/trays",
                            "/setup/cover",
                            "/setup/backup",
                            "/setup/style",
                            "/setup/waiting-list",
                            "/accounts/ID",
                            "/audit/patients/ID",
                            "/import/runs/ID");
        });
        all.assertAll();
    }

    /** What no link leads to: a search, a form that came back, a caution under the pen. */
    private void states(WebBrowser browser, SoftAssertions all) {
        for (String sought : List.of("quenderb", "zzyzx")) {
            browser.go("/kit");
            browser.find(By.id("find")).sendKeys(sought);
            browser.leaveBy(By.cssSelector("form.search button"));
            look(browser, "search for " + sought, all);
        }
        browser.go("/referrals/new");
        browser.type("familyName", "Quenderby");
        browser.type("givenName", "Pat");
        browser.find(By.name("contact")).click();
        browser.find(By.cssSelector("#draft > *"));
        look(browser, "somebody known is typed", all);
        browser.leaveBy(By.cssSelector(".next-step button:not(.primary)"));
        browser.find(By.cssSelector(".problems"));
        look(browser, "a refused referral", all);
        browser.type("familyName", "Hazelfinch");
        browser.type("contact", "01632 960126");
        browser.tick("ears", "both");
        browser.tick("method", "microsuction");
        browser.tick("flag.button_battery", "yes");
        browser.leaveBy(By.cssSelector(".next-step button:not(.primary)"));
        browser.find(By.id("red-flag"));
        look(browser, "a red flag", all);
        browser.go("/patients/" + ready.patientId());
        browser.leaveBy(By.cssSelector("a[href*='/merge?']"));
        look(browser, "side by side", all);
        browser.go("/appointments/" + cancelled);
        browser.leaveBy(By.cssSelector("#cancel button[value='patient']"));
        look(browser, "a cancelled appointment", all);
        browser.go("/estimate");
        browser.tick("ears", "both");
        browser.tick("method", "irrigation");
        browser.find(By.cssSelector(".estimate-slot"));
        look(browser, "an estimate", all);
    }

    private void importsALog(WebBrowser browser, SoftAssertions all) {
        browser.go("/import");
        browser.tick("kind", "visit_log");
        browser.attach("file", Path.of("src/test/resources/visit-log.csv"));
        browser.tick("createNames", "true");
        browser.press("Try it first");
        browser.find(By.xpath("//main//button[starts-with(normalize-space(),'Import ')]"));
        look(browser, "a dry run", all);
        browser.press(By.xpath("//main//button[starts-with(normalize-space(),'Import ')]"));
        browser.find(By.xpath("//main[contains(.,'Imported') and not(contains(.,'dry run'))]//dd"));
        look(browser, "an import", all);
    }

    /** Follows links from these pages, to one of each shape, and answers the shapes. */
    private static Set<String> walk(WebBrowser browser, SoftAssertions all, String... first) {
        Deque<String> open = new ArrayDeque<>(List.of(first));
        Set<String> seen = new TreeSet<>();
        open.forEach(page -> seen.add(shape(page)));
        int looked = 0;
        while (!open.isEmpty() && looked++ < MOST) {
            String page = open.remove();
            browser.go(page);
            for (String link : links(browser)) {
                if (!link.matches(NOT_WALKED) && seen.add(shape(link))) {
                    open.add(link);
                }
            }
            look(browser, page, all);
        }
        all.assertThat(open).as("not looked at any more").isEmpty();
        return seen;
    }

    /** Pages that differ in a caution, a method or a kind of letter alone are alike too. */
    private static String shape(String page) {
        return PageWalk.shape(page)
                .replaceFirst("^/setup/cautions/.+", "/setup/cautions/OF")
                .replaceFirst("^/setup/letters/.+", "/setup/letters/KIND")
                .replaceFirst("^/audit\\?.*", "/audit?CHOICE")
                .replaceFirst("^/estimate\\?.*", "/estimate?CHOICE");
    }

    @SuppressWarnings("unchecked")
    private static List<String> links(WebBrowser browser) {
        return (List<String>) browser.driver()
                .executeScript("return Array.from(document.querySelectorAll('main a[href^=\"/\"]:not([download])'))"
                        + ".map((link) => link.getAttribute('href').replace(/#.*/, ''))");
    }

    private static void look(WebBrowser browser, String what, SoftAssertions all) {
        browser.rests();
        browser.driver()
                .executeScript("document.querySelectorAll('main details').forEach((part) => { part.open = true; })");
        browser.rests();
        all.assertThat(new AxeBuilder()
                        .analyze(browser.driver()).getViolations().stream()
                                .map(AccessiblePagesTest::text)
                                .toList())
                .as("%s (%s)", what, browser.path())
                .isEmpty();
    }

    private static String text(Rule broken) {
        return broken.getId() + ": "
                + broken.getNodes().stream()
                        .limit(3)
                        .map(node -> node.getHtml())
                        .collect(joining(" | "));
    }

    private void as(Role role, WebBrowser.Story story) throws IOException {
        WebBrowser.tell(folder.resolve("profile"), port, "accessible-where-it-stopped", browser -> {
            browser.signIn(accountAdministration
                    .admit(
                            clinic.id(),
                            "a" + UUID.randomUUID(),
                            "Someone",
                            role,
                            role == Role.PRACTITIONER ? clinic.p1() : null)
                    .orElseThrow());
            story.happens(browser);
        });
    }

    private UUID booked(String family, LocalDate date, String start) {
        return fixture.appointment(
                clinic,
                referral(fixture.patient(clinic, family, "Pat")),
                fixture.place(clinic, date.atTime(LocalTime.parse(start)), 30));
    }

    private Referral referral(Patient patient) {
        return fixture.referral(
                clinic, patient, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
    }

    private static Instant at(String time) {
        return Instant.parse(TODAY + "T" + time + ":00Z");
    }
}
