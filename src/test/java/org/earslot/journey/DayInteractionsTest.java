package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.UUID;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.patient.Patient;
import org.earslot.testing.PageTestOnPostgres;
import org.earslot.testing.ServerTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/**
 * What the tasks of a running day cost somebody who is signed in and looks at the day, counted by a {@link Hand}, on both
 * databases.
 */
class DayInteractionsTest {

    abstract static class Desk {

        private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
        private static final String DAY = "/day/" + TODAY;

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
        private Visits visits;

        @Autowired
        private SettableClock clock;

        private TestClinic clinic;
        private UUID first;
        private UUID second;
        private UUID third;
        private Patient walkIn;
        private boolean keysAlone;

        @BeforeEach
        void a_morning() {
            clock.set(at("08:50"));
            clinic = clinics.open();
            first = named("Ash", "09:00");
            second = named("Birch", "09:30");
            third = named("Cedar", "10:00");
            walkIn = fixture.patient(clinic, "Oakfield", "Tessaly");
            fixture.referral(clinic, walkIn, DiaryFixture.details(Method.MICROSUCTION, Ears.RIGHT, null, null, null));
        }

        @Test
        void tasks_of_reception_take_few_interactions() throws IOException {
            as(Role.RECEPTIONIST, browser -> {
                assertThat(willBeLate(browser)).as("will be late").isEqualTo(3);
                assertThat(cancel(browser)).as("cancel").isEqualTo(4);
                assertThat(undoACheckIn(browser)).as("undo a wrong press").isEqualTo(1);
                assertThat(walksIn(browser)).as("walk-in known by name").isEqualTo(5);
                assertThat(whatThreatens(browser))
                        .as("what threatens this morning")
                        .isEqualTo(1);
            });
        }

        @Test
        void a_visit_takes_three_presses() throws IOException {
            clock.set(at("08:55"));
            running.record(clinic.id(), first, ClockEvent.ARRIVED);
            as(
                    Role.PRACTITIONER,
                    browser -> assertThat(visit(browser))
                            .as("called in, finished, as expected")
                            .isEqualTo(3));
        }

        @Test
        void every_task_goes_by_keys_alone() throws IOException {
            keysAlone = true;
            as(Role.RECEPTIONIST, browser -> {
                willBeLate(browser);
                undoACheckIn(browser);
                move(browser);
                cancel(browser);
                walksIn(browser);
                hand(browser).presses(By.cssSelector(".day-views a[href$='/sheet']"));
                assertThat(browser.find(By.cssSelector(".sheet-line")).isDisplayed())
                        .isTrue();
            });
            clock.set(at("09:05"));
            running.record(clinic.id(), first, ClockEvent.ARRIVED);
            as(Role.PRACTITIONER, this::visit);
        }

        @Test
        void pages_of_the_day_are_accessible_with_everything_open() throws IOException {
            clock.set(at("09:20"));
            running.record(clinic.id(), first, ClockEvent.CALLED_IN);
            running.willBeLate(clinic.id(), second, 20);
            as(Role.PRACTITIONER, browser -> {
                for (String page :
                        List.of(DAY, DAY + "?late=" + second, DAY + "/now", DAY + "/sheet", "/appointments/" + first)) {
                    browser.go(page);
                    browser.rests();
                    browser.driver()
                            .executeScript("document.querySelectorAll('.row-menu, .taps, #pick-day, #walk-in')"
                                    + ".forEach(part => { part.open = true; })");
                    assertThat(new AxeBuilder().analyze(browser.driver()).getViolations())
                            .as(page)
                            .isEmpty();
                }
            });
        }

        /** Somebody else's press shows the day again under the hands of whoever works on it. */
        @Test
        void keyboard_open_parts_and_place_survive_a_refresh() throws IOException {
            as(Role.RECEPTIONIST, browser -> {
                browser.go(DAY);
                browser.rests();
                browser.press(By.cssSelector("#more-" + third + " > summary"));
                browser.driver()
                        .executeScript("document.getElementById('check-" + second + "').focus();"
                                + "document.querySelector('#day-live').dataset.old = 'yes'; window.scrollTo(0, 150);"
                                + "window.htmx.trigger('#day-live', 'day-changed');");
                browser.find(By.cssSelector("#day-live:not([data-old])"));
                browser.rests();
                assertThat(browser.driver().switchTo().activeElement().getAttribute("id"))
                        .isEqualTo("check-" + second);
                assertThat(browser.find(By.id("more-" + third)).getAttribute("open"))
                        .isNotNull();
                assertThat(((Number) browser.driver().executeScript("return window.scrollY")).intValue())
                        .isBetween(149, 151);
            });
        }

        private int willBeLate(WebBrowser browser) {
            Hand hand = hand(browser)
                    .presses(By.cssSelector("#late-" + first + " > summary"))
                    .presses(By.cssSelector("#late-" + first + " button[value='20']"))
                    .presses(By.cssSelector("#late button[name='turn'], #late form[action$='/turn'] button"));
            await().until(() -> appointment(first).turnGiven());
            assertThat(appointment(first).comesAt()).contains(at("09:20"));
            return hand.interactions();
        }

        private int cancel(WebBrowser browser) {
            Hand hand = hand(browser)
                    .presses(By.cssSelector("#late-" + third + " > summary"))
                    .presses(By.cssSelector("#late-" + third + " a"))
                    .types(By.id("why"), "ill")
                    .presses(By.cssSelector("#cancel button[value='patient']"));
            await().until(() -> appointment(third).status() == AppointmentStatus.CANCELLED);
            return hand.interactions();
        }

        private void move(WebBrowser browser) {
            Instant before = appointment(second).place().start();
            Hand hand = hand(browser)
                    .presses(By.cssSelector("#more-" + second + " > summary"))
                    .presses(By.cssSelector("#more-" + second + " a[href*='/slots']"));
            By beyond = By.cssSelector("table.offers tbody tr:first-child input[name='allTheSame']");
            if (!browser.driver().findElements(beyond).isEmpty()) {
                hand.presses(beyond);
            }
            hand.presses(By.cssSelector("table.offers form button"));
            await().until(() -> !appointment(second).place().start().equals(before));
        }

        private Hand hand(WebBrowser browser) {
            return new Hand(browser, DAY, keysAlone);
        }

        private int undoACheckIn(WebBrowser browser) {
            Hand wrong = hand(browser).presses(By.cssSelector("#check-" + second));
            await().until(() -> appointment(second).status() == AppointmentStatus.CHECKED_IN);
            browser.find(By.id("undo"));
            int before = wrong.interactions();
            wrong.presses(By.cssSelector("#undo"));
            await().until(() -> appointment(second).status() == AppointmentStatus.BOOKED);
            return wrong.interactions() - before;
        }

        private int walksIn(WebBrowser browser) {
            Hand hand = hand(browser)
                    .types(By.id("fitInPatient"), "tess oakf")
                    .sendsByEnter()
                    .presses(By.cssSelector("#fit-in input[name='noneFlagged']"))
                    .presses(By.cssSelector("#fit-in input[name='cautionsAsked']"))
                    .presses(By.cssSelector("#fit-in button[name='turn'][value='now']"));
            await().until(() ->
                    appointments.findByClinicIdAndPatientIdOrderByStartsAtDesc(clinic.id(), walkIn.id()).stream()
                            .anyMatch(each -> each.status() == AppointmentStatus.CHECKED_IN));
            return hand.interactions();
        }

        private int whatThreatens(WebBrowser browser) {
            Hand hand = hand(browser).presses(By.cssSelector(".day-views a[href$='/sheet']"));
            assertThat(browser.find(By.cssSelector(".warnings .warning")).isDisplayed())
                    .isTrue();
            return hand.interactions();
        }

        private int visit(WebBrowser browser) {
            Hand hand = hand(browser).presses(By.cssSelector("#press-" + first));
            await().until(() -> appointment(first).times().calledIn() != null);
            clock.set(at("09:15"));
            browser.find(By.cssSelector("#visit-" + first + " form[data-press='finish'] button:enabled"));
            hand.presses(By.cssSelector("#press-" + first));
            await().until(() -> appointment(first).times().finished() != null);
            hand.presses(By.cssSelector("#expected-" + first));
            await().until(() -> visits.findById(appointment(first).visitId().orElseThrow())
                    .orElseThrow()
                    .outcome(Ear.RIGHT)
                    .isPresent());
            return hand.interactions();
        }

        private void as(Role role, WebBrowser.Story story) throws IOException {
            WebBrowser.tell(folder.resolve("profile-" + role), port, "day-interactions-where-it-stopped", browser -> {
                browser.signIn(accountAdministration
                        .admit(
                                clinic.id(),
                                "d" + UUID.randomUUID(),
                                "Someone",
                                role,
                                role == Role.PRACTITIONER ? clinic.p1() : null)
                        .orElseThrow());
                story.happens(browser);
            });
        }

        private UUID named(String family, String start) {
            return fixture.appointment(
                    clinic,
                    fixture.referral(
                            clinic,
                            fixture.patient(clinic, family, "Pat"),
                            DiaryFixture.details(Method.MICROSUCTION, Ears.RIGHT, null, null, null)),
                    fixture.place(clinic, TODAY.atTime(LocalTime.parse(start)), 30));
        }

        private Appointment appointment(UUID id) {
            return appointments.findById(id).orElseThrow();
        }

        private static Instant at(String time) {
            return Instant.parse(TODAY + "T" + time + ":00Z");
        }
    }

    @Nested
    @ServerTest
    class OnH2Database extends Desk {}

    @Nested
    @PageTestOnPostgres
    class OnPostgresDatabase extends Desk {}
}
