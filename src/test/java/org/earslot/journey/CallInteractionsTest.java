package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.EnumSet;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.testing.OnH2;
import org.earslot.testing.SettableClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.annotation.Import;
import org.springframework.test.annotation.DirtiesContext;

/**
 * What a telephone call costs the desk, counted in a real browser: each click, each key that sends or switches, each field
 * that is typed into. Skipped where no browser is found, unless {@code EARSLOT_BROWSER_REQUIRED=true}.
 */
@SpringBootTest(
        webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT,
        // An application and a database of its own, apart from those of the journeys.
        properties = "journey=calls")
@ExtendWith(OutputCaptureExtension.class)
@Import(SettableClock.Bringing.class)
// A story told a second time needs a new clinic.
@DirtiesContext
@OnH2
class CallInteractionsTest {

    /** A Tuesday, 10:00 by the clinic's clock. */
    private static final Instant MORNING = Instant.parse("2026-09-01T09:00:00Z");

    @LocalServerPort
    private int port;

    @TempDir
    private Path folder;

    @Autowired
    private SettableClock clock;

    @Autowired
    private Clinics clinics;

    @Autowired
    private Practitioners practitioners;

    @Autowired
    private Rooms rooms;

    @Autowired
    private WeeklySessions sessions;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Policies policies;

    @Test
    void a_call_takes_few_presses(CapturedOutput log) throws IOException {
        clock.set(MORNING);
        WebBrowser.tell(folder.resolve("profile"), port, "calls-where-it-stopped", browser -> {
            opensTheClinic(browser, log);
            takesFewTabStopsToSave(browser);
            booksANewPatient(browser);
            saysWhenTheAppointmentIs(browser);
            cancelsIt(browser);
            booksAKnownPatient(browser);
        });
    }

    private void opensTheClinic(WebBrowser browser, CapturedOutput log) {
        NewClinic.opensAndSignsIn(browser, log, "Clinic of calls");
        UUID clinic = clinics.findAll().get(0).id();
        // What the session would be when it is full is no matter here: offers go to the end of what is booked.
        Policy policy = policies.findById(clinic).orElseGet(() -> Policy.starting(clinic));
        policy.offerByWholeList(false);
        policies.save(policy);
        UUID who = practitioners
                .save(new Practitioner(UUID.randomUUID(), clinic, "P1", Ear.RIGHT, EnumSet.allOf(Method.class)))
                .id();
        UUID room = rooms.save(new Room(UUID.randomUUID(), clinic, "R1")).id();
        sessions.save(new WeeklySession(
                UUID.randomUUID(),
                clinic,
                who,
                room,
                DayOfWeek.WEDNESDAY,
                new TimeSpan(LocalTime.of(9, 0), LocalTime.of(17, 0)),
                null,
                LocalDate.of(2026, 8, 1)));
    }

    /** By the keyboard alone, from the field that has the focus when the form opens to the button that saves it. */
    private static void takesFewTabStopsToSave(WebBrowser browser) {
        browser.go("/referrals/new");
        browser.find(By.name("familyName"));
        browser.rests();
        WebElement at = browser.driver().switchTo().activeElement();
        assertThat(at.getDomAttribute("name")).isEqualTo("familyName");
        int stops = 0;
        while (!"Save".equals(at.getText()) && stops <= 200) {
            at.sendKeys(Keys.TAB);
            stops++;
            at = browser.driver().switchTo().activeElement();
        }
        assertThat(stops).as("tab stops before Save").isLessThanOrEqualTo(40);
    }

    private void booksANewPatient(WebBrowser browser) throws IOException {
        browser.go("/day");
        Hand hand = new Hand(browser);
        hand.follows("Referrals");
        hand.follows("New referral");
        hand.types("familyName", "Thistlewade");
        hand.types("givenName", "Orla");
        hand.types("dateOfBirth", "03041951");
        hand.types("contact", "01632 960125");
        hand.ticks("ears", "both");
        hand.ticks("method", "microsuction");
        hand.ticks("firstVisit", "yes");
        hand.types("softenerDays", "4");
        hand.ticks("noneFlagged", "yes");
        hand.ticks("noneOfThese", "yes");
        browser.picture("call-1-referral");
        hand.leavesBy("Save and find a slot");
        browser.picture("call-2-offers");
        hand.leavesBy(By.cssSelector(".offers .best button"));
        browser.sees("Thistlewade, Orla");
        assertThat(appointments.findAll())
                .singleElement()
                .extracting(Appointment::status)
                .isEqualTo(AppointmentStatus.BOOKED);
        assertThat(hand.interactions()).as("new referral to booking").isLessThanOrEqualTo(16);
        assertThat(hand.fields()).isLessThanOrEqualTo(7);
    }

    private void saysWhenTheAppointmentIs(WebBrowser browser) throws IOException {
        browser.go("/kit");
        Hand hand = new Hand(browser);
        hand.seeks("thistle orla");
        browser.sees("Wed 2 Sept 2026");
        browser.picture("call-3-patient");
        assertThat(hand.interactions()).as("when is my appointment").isLessThanOrEqualTo(3);
    }

    private void cancelsIt(WebBrowser browser) {
        browser.go("/kit");
        Hand hand = new Hand(browser);
        hand.seeks("01632 960125");
        hand.follows("Cancel");
        hand.leavesBy("Cancelled by the patient");
        browser.sees("no reason given");
        assertThat(appointments.findAll())
                .singleElement()
                .extracting(Appointment::status)
                .isEqualTo(AppointmentStatus.CANCELLED);
        assertThat(hand.interactions()).as("cancel").isLessThanOrEqualTo(4);
    }

    private void booksAKnownPatient(WebBrowser browser) {
        browser.go("/day");
        Hand hand = new Hand(browser);
        hand.seeks("tlewade, orla");
        hand.follows("New referral");
        hand.ticks("ears", "left");
        assertThat(browser.find(By.cssSelector("input[name='method']:checked")).getDomAttribute("value"))
                .isEqualTo("microsuction");
        hand.ticks("noneFlagged", "yes");
        hand.ticks("noneOfThese", "yes");
        hand.leavesBy("Save and find a slot");
        hand.leavesBy(By.cssSelector(".offers .best button"));
        browser.sees("Thistlewade, Orla");
        assertThat(appointments.findAll())
                .filteredOn(one -> one.status() == AppointmentStatus.BOOKED)
                .hasSize(1);
        assertThat(hand.interactions()).as("known patient to booking").isLessThanOrEqualTo(8);
    }

    /** Does what a person does, and counts it. */
    private static final class Hand {

        private final WebBrowser browser;
        private int clicks;
        private int fields;

        Hand(WebBrowser browser) {
            this.browser = browser;
        }

        int interactions() {
            return clicks + fields;
        }

        int fields() {
            return fields;
        }

        void types(String field, String text) {
            browser.rests();
            WebElement input = browser.find(By.name(field));
            input.sendKeys(text);
            fields++;
        }

        void ticks(String field, String value) {
            browser.tick(field, value);
            clicks++;
        }

        /** By the search in the head of the page: typed, and sent by the key Enter. */
        void seeks(String text) {
            browser.rests();
            WebElement find = browser.find(By.id("find"));
            find.sendKeys(text, Keys.ENTER);
            fields++;
            clicks++;
            browser.find(By.id("appointments"));
        }

        void follows(String link) {
            browser.leaveBy(By.xpath("//a[normalize-space()='" + link + "']"));
            clicks++;
        }

        void leavesBy(String button) {
            leavesBy(By.xpath("//main//button[normalize-space()='" + button + "' and not(@aria-hidden)]"));
        }

        void leavesBy(By what) {
            browser.leaveBy(what);
            clicks++;
        }
    }
}
