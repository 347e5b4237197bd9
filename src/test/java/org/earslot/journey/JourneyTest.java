package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import org.earslot.booking.Appointments;
import org.earslot.testing.OnH2;
import org.earslot.testing.SettableClock;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.WebElement;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.annotation.Import;
import org.springframework.test.annotation.DirtiesContext;

/**
 * The whole way in a real browser: first sign-in, set-up, import, referral, offer, booking, check-in to room ready, review.
 * Skipped where no browser is found, unless {@code EARSLOT_BROWSER_REQUIRED=true}.
 */
@SpringBootTest(
        webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT,
        // An application and a database of its own: its first code is told as it starts.
        properties = "journey=first")
@ExtendWith(OutputCaptureExtension.class)
@Import(SettableClock.Bringing.class)
// A story told a second time needs a new clinic.
@DirtiesContext
@OnH2
class JourneyTest {

    private static final By RAN_OVER = By.xpath("//summary[normalize-space()='Where it ran over']");

    /** A Tuesday, 10:00 by the clinic's clock, after the last visit of the imported log. */
    private static final Instant MORNING = Instant.parse("2026-09-01T09:00:00Z");

    @LocalServerPort
    private int port;

    @TempDir
    private Path folder;

    @Autowired
    private SettableClock clock;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Visits visits;

    @Test
    void leads_from_the_first_sign_in_to_the_review(CapturedOutput log) throws IOException {
        clock.set(MORNING);
        WebBrowser.tell(folder.resolve("profile"), port, "where-it-stopped", browser -> wholeWay(browser, log));
    }

    private void wholeWay(WebBrowser browser, CapturedOutput log) throws IOException {
        NewClinic.opensAndSignsIn(browser, log, "Journey Clinic");
        importsPastVisits(browser);
        addsASession(browser);
        takesAReferralIn(browser);
        booksAnOffer(browser);
        runsTheVisit(browser);
        readsTheMonth(browser);
    }

    private void importsPastVisits(WebBrowser browser) throws IOException {
        Path file = folder.resolve("visits.csv");
        try (InputStream in = getClass().getResourceAsStream("/visit-log.csv")) {
            Files.copy(in, file);
        }
        browser.go("/import");
        browser.tick("kind", "visit_log");
        browser.attach("file", file);
        browser.tick("createNames", "true");
        browser.press("Try it first");
        WebElement letIn = browser.find(By.xpath("//main//button[starts-with(normalize-space(),'Import ')]"));
        assertThat(browser.text()).contains("2544");
        browser.picture("2-dry-run");
        assertThat(visits.count()).isZero();
        browser.press(letIn);
        browser.find(By.xpath("//main[contains(.,'Imported') and not(contains(.,'dry run'))]//dd[.='2544']"));
        assertThat(visits.count()).isEqualTo(2544);
    }

    private void addsASession(WebBrowser browser) {
        browser.go("/setup");
        browser.press(By.cssSelector("#sessions details summary"));
        WebElement form = browser.find(By.cssSelector("#sessions details form"));
        browser.chooseText(form.findElement(By.name("day")), "Tuesday");
        browser.chooseText(form.findElement(By.name("practitioner")), "P1");
        browser.chooseText(form.findElement(By.name("room")), "R1");
        browser.set(form.findElement(By.name("from")), "09:00");
        browser.set(form.findElement(By.name("to")), "17:00");
        browser.set(form.findElement(By.name("validFrom")), "2026-08-01");
        browser.press(form.findElement(By.tagName("button")));
        browser.sees("Saved.");
    }

    private void takesAReferralIn(WebBrowser browser) throws IOException {
        browser.go("/referrals/new");
        browser.type("familyName", "Thistlewade");
        browser.type("givenName", "Orla");
        browser.type("contact", "01632 960123");
        browser.tick("noneFlagged", "yes");
        browser.openGroupOf("cautions", "noise_intolerance");
        browser.tick("cautions", "noise_intolerance");
        browser.tick("noneOfThese", "yes");
        browser.tick("firstVisit", "yes");
        browser.tick("ears", "both");
        browser.tick("method", "manual_removal");
        browser.choose("rightWax", "sticky");
        browser.choose("leftCanal", "narrow");
        browser.find(By.cssSelector("#estimate .estimate-slot"));
        browser.picture("3-referral");
        browser.press("Save");
        browser.sees("The referral is saved.");
        browser.sees("Thistlewade");
    }

    private void booksAnOffer(WebBrowser browser) throws IOException {
        browser.follow("Find a slot");
        browser.set("from", "2026-09-01");
        browser.set("to", "2026-09-01");
        browser.press("Search");
        browser.sees("Tue 1 Sep");
        browser.picture("4-offers");
        browser.takesAnOffer();
        browser.find(By.xpath("//main//button[normalize-space()='Undo']"));
        assertThat(appointments.count()).isEqualTo(1);
    }

    private void runsTheVisit(WebBrowser browser) throws IOException {
        browser.go("/day/2026-09-01");
        browser.sees("Thistlewade");
        browser.picture("5-day");
        browser.pressUntil("Check in: nothing new", "arrived 10:00");
        browser.pressUntil("Call in", "since 10:00");
        clock.advance(Duration.ofMinutes(27));
        browser.go("/day/2026-09-01");
        browser.pressUntil("Finished", "finished 10:27");
        clock.advance(Duration.ofMinutes(4));
        browser.pressUntil("Room ready", "ready 10:31");
        browser.pressUntil(
                By.cssSelector("td.do a[href*='#findings']"),
                By.cssSelector("form[action$='/findings/right/as-expected']"));
        browser.leaveBy(By.cssSelector("form[action$='/findings/right/as-expected'] button"));
        browser.leaveBy(By.cssSelector("form[action$='/findings/left/as-expected'] button"));
        browser.find(By.xpath("//section[@id='findings']//strong"));
        browser.picture("6-findings");
        assertThat(visits.count()).isEqualTo(2545);
    }

    private void readsTheMonth(WebBrowser browser) throws IOException {
        browser.go("/review/2026-09");
        browser.press(RAN_OVER);
        assertThat(browser.text()).contains("manual removal");
        browser.go("/review/2026-08");
        browser.press(RAN_OVER);
        assertThat(browser.text()).contains("microsuction").contains("P1");
        browser.picture("7-review");
    }
}
