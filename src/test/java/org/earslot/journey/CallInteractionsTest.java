package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.ServerTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/**
 * What a telephone call costs the desk, counted in a real browser by a {@link Hand}, on both databases. Skipped where no browser is found, unless {@code EARSLOT_BROWSER_REQUIRED=true}.
 */
class CallInteractionsTest {

    abstract static class Desk {

        /** A Tuesday, 18:00 by the clinic's clock: the next session is tomorrow's. */
        private static final Instant EVENING = Instant.parse("2026-09-01T17:00:00Z");

        private static final LocalDate TOMORROW = LocalDate.of(2026, 9, 2);

        @LocalServerPort
        private int port;

        @TempDir
        private Path folder;

        @Autowired
        private TestClinics clinics;

        @Autowired
        private AccountAdministration accountAdministration;

        @Autowired
        private Appointments appointments;

        @Autowired
        private Policies policies;

        @Autowired
        private SettableClock clock;

        private ClinicId clinic;

        @Test
        void a_call_takes_few_presses() throws IOException {
            clock.set(EVENING);
            WebBrowser.tell(folder.resolve("profile"), port, "calls-where-it-stopped", browser -> {
                opensTheClinic(browser);
                takesFewTabStopsToSave(browser);
                booksANewPatient(browser);
                saysWhenTheAppointmentIs(browser);
                cancelsIt(browser);
                booksAKnownPatient(browser);
            });
        }

        private void opensTheClinic(WebBrowser browser) {
            clinic = clinics.open().id();
            // What the session would be when it is full is no matter here: offers go to the end of what is booked.
            Policy policy = policies.findById(clinic).orElseThrow();
            policy.offerByWholeList(false);
            policies.save(policy);
            browser.signIn(accountAdministration
                    .admit(clinic, "l" + UUID.randomUUID(), "Lead", Role.LEAD, null)
                    .orElseThrow());
        }

        private List<Appointment> booked() {
            return appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinic, TOMORROW);
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
            Hand hand = new Hand(browser, "/day");
            hand.follows("Referrals");
            hand.follows("New referral");
            hand.types(By.name("familyName"), "Thistlewade");
            hand.types(By.name("givenName"), "Orla");
            hand.types(By.name("dateOfBirth"), "03041951");
            hand.types(By.name("contact"), "01632 960125");
            hand.ticks("ears", "both");
            hand.ticks("method", "microsuction");
            hand.ticks("firstVisit", "yes");
            hand.types(By.name("softenerDays"), "4");
            hand.ticks("noneFlagged", "yes");
            hand.ticks("noneOfThese", "yes");
            browser.picture("call-1-referral");
            hand.leavesBy("Save and find a slot");
            browser.picture("call-2-offers");
            hand.leavesBy(By.cssSelector(".offers .best button"));
            browser.sees("Thistlewade, Orla");
            assertThat(booked()).singleElement().extracting(Appointment::status).isEqualTo(AppointmentStatus.BOOKED);
            assertThat(hand.interactions()).as("new referral to booking").isLessThanOrEqualTo(16);
            assertThat(hand.fields()).isLessThanOrEqualTo(7);
        }

        private void saysWhenTheAppointmentIs(WebBrowser browser) throws IOException {
            Hand hand = new Hand(browser, "/kit");
            hand.seeks("thistle orla");
            browser.sees("Wed 2 Sept 2026");
            browser.picture("call-3-patient");
            assertThat(hand.interactions()).as("when is my appointment").isLessThanOrEqualTo(3);
        }

        private void cancelsIt(WebBrowser browser) {
            Hand hand = new Hand(browser, "/kit");
            hand.seeks("01632 960125");
            hand.follows("Cancel");
            hand.leavesBy("Cancelled by the patient");
            browser.sees("no reason given");
            assertThat(booked()).singleElement().extracting(Appointment::status).isEqualTo(AppointmentStatus.CANCELLED);
            assertThat(hand.interactions()).as("cancel").isLessThanOrEqualTo(4);
        }

        private void booksAKnownPatient(WebBrowser browser) {
            Hand hand = new Hand(browser, "/day");
            hand.seeks("tlewade, orla");
            hand.follows("New referral");
            hand.ticks("ears", "left");
            assertThat(browser.find(By.cssSelector("input[name='method']:checked"))
                            .getDomAttribute("value"))
                    .isEqualTo("microsuction");
            hand.ticks("noneFlagged", "yes");
            hand.ticks("noneOfThese", "yes");
            hand.leavesBy("Save and find a slot");
            hand.leavesBy(By.cssSelector(".offers .best button"));
            browser.sees("Thistlewade, Orla");
            assertThat(booked())
                    .filteredOn(one -> one.status() == AppointmentStatus.BOOKED)
                    .hasSize(1);
            assertThat(hand.interactions()).as("known patient to booking").isLessThanOrEqualTo(8);
        }
    }

    @Nested
    @ServerTest
    class OnH2Database extends Desk {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Desk {}
}
