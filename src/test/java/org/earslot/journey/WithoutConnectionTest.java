package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.UUID;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookingResult;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.testing.OnH2;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Dimension;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.JdbcTemplate;

/**
 * The running list in a real browser whose connection is cut: what is pressed is kept, the work goes on, and when the
 * connection is back each press is sent once. Another screen's press shows without anybody asking.
 */
@SpringBootTest(
        webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT,
        // Streams that live as briefly as here show that screens follow on after one has ended.
        properties = "earslot.day-streams.longest=20s")
@Import(SettableClock.Bringing.class)
@OnH2
class WithoutConnectionTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final String LIST = "/day/" + TODAY + "/now";
    private static final String CHOSEN = "four unrelated words here";

    @LocalServerPort
    private int port;

    @TempDir
    private Path folder;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private AccountAdministration accountAdministration;

    @Autowired
    private RunningDay running;

    @Autowired
    private Appointments appointments;

    @Autowired
    private JdbcTemplate jdbc;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private By callSecondIn;
    private UUID first;
    private UUID second;
    private UUID late;

    @BeforeEach
    void a_morning() {
        clock.set(at("08:40"));
        clinic = clinics.open();
        first = named("Ash", "09:00", Ears.BOTH);
        second = named("Birch", "09:30", Ears.RIGHT);
        callSecondIn = By.cssSelector("[data-visit='" + second + "'] form[data-press='call-in'] button");
        late = named("Cedar", "10:00", Ears.BOTH);
        named("Dogwood", "10:30", Ears.LEFT);
        named("Elder", "11:00", Ears.BOTH);
    }

    @Test
    void keeps_what_is_pressed_and_sends_it_once() throws IOException {
        WebBrowser.tell(folder.resolve("profile"), port, "without-connection-where-it-stopped", browser -> {
            signsIn(browser);
            followsAnotherScreen(browser);
            undoesWhatWasNotSent(browser);
            worksOnWithoutConnection(browser);
            sendsOnceWhenTheConnectionIsBack(browser);
            looksAtTheRestOfTheMorning(browser);
            keepsARefusalInItsRow(browser);
        });
    }

    private void signsIn(WebBrowser browser) {
        AccountAdministration.Handed handed = accountAdministration
                .admit(clinic.id(), "p" + UUID.randomUUID(), "P1", Role.PRACTITIONER, clinic.p1())
                .orElseThrow();
        browser.go("/sign-in");
        browser.type("username", handed.signInName());
        browser.type("password", handed.password());
        browser.leaveBy(By.cssSelector("main form button"));
        browser.find(By.name("currentPassword"));
        browser.type("currentPassword", handed.password());
        browser.type("newPassword", CHOSEN);
        browser.type("repeatedPassword", CHOSEN);
        browser.leaveBy(By.cssSelector("main form button"));
    }

    private void followsAnotherScreen(WebBrowser browser) throws IOException {
        clock.set(at("08:57"));
        browser.go(LIST);
        browser.sees("not checked in");
        browser.find(By.cssSelector("html[data-follows='yes']"));
        happens(first, ClockEvent.ARRIVED, "08:57");
        browser.sees("arrived 08:57");
        happens(second, ClockEvent.ARRIVED, "08:58");
        browser.find(callSecondIn);
        browser.picture("live-1-next");
    }

    /** One patient in the room hides the other's button, until the press is taken back. */
    private void undoesWhatWasNotSent(WebBrowser browser) throws IOException {
        clock.set(at("09:00"));
        cut(browser, true);
        browser.press("Call in");
        browser.sees("Saved on this device, waiting to be sent:");
        await().until(() -> !browser.find(callSecondIn).isDisplayed());
        assertThat(browser.find(By.cssSelector("#running .card h2")).getText()).isEqualTo("In the room");
        browser.picture("live-2-in-the-room");
        browser.press("Undo");
        await().until(() -> browser.find(callSecondIn).isDisplayed());
        assertThat(browser.find(By.cssSelector("#running .card h2")).getText()).isEqualTo("Next");
        assertThat(waiting(browser)).isEqualTo("[]");
    }

    private void worksOnWithoutConnection(WebBrowser browser) throws IOException {
        browser.press("Call in");
        browser.sees("Saved on this device, waiting to be sent:");
        browser.press("Finished");
        browser.find(By.xpath("//div[@id='kept']//li[2]"));
        browser.press("Room ready");
        browser.find(By.xpath("//div[@id='kept']//li[3]"));
        browser.picture("live-2-kept");
        assertThat(appointment(first).times().calledIn()).isNull();
        assertThat(waiting(browser))
                .contains(first.toString())
                .doesNotContain("Ash")
                .doesNotContain("P.A.");
        // The presses were made at intervals, as the browser's clock has them: these stand for the minutes between.
        browser.driver()
                .executeScript("var kept = JSON.parse(localStorage.getItem('earslot.presses'));"
                        + "[1500, 600, 120].forEach(function (ago, i) { kept[i].at = Date.now() - ago * 1000; });"
                        + "localStorage.setItem('earslot.presses', JSON.stringify(kept));");
    }

    private void sendsOnceWhenTheConnectionIsBack(WebBrowser browser) throws IOException {
        clock.set(at("09:26"));
        cut(browser, false);
        browser.driver().executeScript("window.dispatchEvent(new Event('online'))");
        await().atMost(Duration.ofSeconds(60))
                .until(() -> appointment(first).times().roomReady() != null);
        assertThat(appointment(first).times().calledIn()).isBetween(at("09:00"), at("09:01"));
        assertThat(appointment(first).times().finished()).isBetween(at("09:15"), at("09:16"));
        assertThat(appointment(first).times().roomReady()).isBetween(at("09:23"), at("09:24"));
        browser.sees("Sent:");
        assertThat(browser.find(By.id("kept")).getText()).containsPattern("\\d\\d:\\d\\d Call in \\(09:00\\)");
        browser.sees("Outcome missing");
        await().atMost(Duration.ofSeconds(60)).until(() -> waiting(browser).equals("[]"));
        await().atMost(Duration.ofSeconds(30))
                .until(() -> !browser.find(By.id("kept")).isDisplayed());
        assertThat(jdbc.queryForObject("select count(*) from press where appointment_id = ?", Integer.class, first))
                .isEqualTo(3);
        browser.picture("live-3-sent");
    }

    private void looksAtTheRestOfTheMorning(WebBrowser browser) throws IOException {
        happens(second, ClockEvent.CALLED_IN, "09:31");
        happens(late, ClockEvent.ARRIVED, "10:14");
        clock.set(at("10:15"));
        browser.driver().manage().window().setSize(new Dimension(1280, 1700));
        browser.go(LIST);
        browser.sees("Late: P.C., booked 10:00, arrived 10:14");
        browser.press(By.cssSelector("#running details.taps summary"));
        browser.press(By.cssSelector("input[name='right.wax'][value='hard']"));
        browser.picture("live-4-list");
        browser.driver().manage().window().setSize(new Dimension(820, 1900));
        browser.picture("live-5-list-tablet");
        browser.go("/day/" + TODAY);
        browser.sees("Patients to tell");
        browser.picture("live-6-day-tablet");
        browser.driver().manage().window().setSize(new Dimension(1280, 1700));
        browser.picture("live-7-day");
    }

    private void keepsARefusalInItsRow(WebBrowser browser) throws IOException {
        browser.go(LIST);
        By finish = By.cssSelector("[data-visit='" + second + "'] form[data-press='finish'] button");
        // Until the press the screen is not shown again, so that it still offers what the server refuses.
        browser.driver()
                .executeScript("document.addEventListener('submit', function () { window.hasPressed = true; }, true);"
                        + "document.addEventListener('htmx:beforeRequest', function (event) {"
                        + " if (!window.hasPressed) { event.preventDefault(); } });");
        browser.rests();
        browser.find(finish);
        jdbc.update(
                "update clinic_day set closed_at = ? where clinic_id = ? and day_date = ?",
                clock.instant().atOffset(ZoneOffset.UTC),
                clinic.id().value(),
                TODAY);
        browser.press(finish);
        By refusal = By.cssSelector("[data-visit='" + second + "'] .press-refused");
        browser.sees("Could not be done: The day Tue 3 Mar 2026 is closed.");
        // It was announced, and outlives the list being shown again.
        await().atMost(Duration.ofSeconds(30))
                .until(() -> browser.driver()
                        .findElements(By.cssSelector("form[data-press]"))
                        .isEmpty());
        assertThat(browser.find(refusal).getText()).contains("is closed");
        browser.picture("live-8-refused");
        browser.press(By.cssSelector("[data-visit='" + second + "'] .press-refused button"));
        await().until(() -> browser.driver().findElements(refusal).isEmpty());
    }

    private static String waiting(WebBrowser browser) {
        return String.valueOf(browser.driver().executeScript("return localStorage.getItem('earslot.presses') || '[]'"));
    }

    /** Cuts the browser's connection, or lets it back. */
    private static void cut(WebBrowser browser, boolean off) {
        browser.driver().executeCdpCommand("Network.enable", Map.of());
        browser.driver()
                .executeCdpCommand(
                        "Network.emulateNetworkConditions",
                        Map.of("offline", off, "latency", 0, "downloadThroughput", -1, "uploadThroughput", -1));
    }

    private void happens(UUID id, ClockEvent event, String time) {
        clock.set(at(time));
        assertThat(running.record(clinic.id(), id, event)).isInstanceOf(BookingResult.Done.class);
    }

    private UUID named(String family, String start, Ears ears) {
        Patient patient = fixture.patient(clinic, family, "Pat");
        return fixture.appointment(
                clinic,
                fixture.referral(clinic, patient, DiaryFixture.details(Method.MICROSUCTION, ears, null, null, null)),
                fixture.place(clinic, TODAY.atTime(LocalTime.parse(start)), 30));
    }

    private Appointment appointment(UUID id) {
        return appointments.findById(id).orElseThrow();
    }

    private static Instant at(String time) {
        return TODAY.atTime(LocalTime.parse(time))
                .atZone(ZoneId.of("Europe/London"))
                .toInstant();
    }
}
