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
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.earslot.testing.ServerTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.Keys;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/** The tasks of a telephone call and of the management, done by keys alone: no pointer is used anywhere in here. */
@ServerTest
class KeyboardAloneTest {

    /** A Tuesday, 18:00 by the clinic's clock: the next session is tomorrow's. */
    private static final Instant EVENING = Instant.parse("2026-09-01T17:00:00Z");

    private static final LocalDate TOMORROW = LocalDate.of(2026, 9, 2);
    private static final String OWN_PASSWORD = "four unrelated words here";

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
    private Referrals referrals;

    @Autowired
    private Rooms rooms;

    @Autowired
    private Policies policies;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @Test
    void does_every_task_of_a_call_and_of_the_management() throws IOException {
        clock.set(EVENING);
        clinic = clinics.open();
        Policy policy = policies.findById(clinic.id()).orElseThrow();
        policy.offerByWholeList(false);
        policies.save(policy);
        WebBrowser.tell(folder.resolve("profile"), port, "keyboard-where-it-stopped", browser -> {
            Keyboard keys = new Keyboard(browser);
            signsIn(browser, keys);
            booksANewPatient(browser, keys);
            saysWhenTheAppointmentIs(browser, keys);
            readsTheLetter(browser, keys);
            movesIt(browser, keys);
            cancelsIt(browser, keys);
            putsAKnownPatientOnTheWaitingList(browser, keys);
            correctsTheAddress(browser, keys);
            setsUpARoom(browser, keys);
            readsTheReview(browser, keys);
        });
    }

    private void signsIn(WebBrowser browser, Keyboard keys) {
        AccountAdministration.Handed handed = accountAdministration
                .admit(clinic.id(), "k" + UUID.randomUUID(), "Lead", Role.LEAD, null)
                .orElseThrow();
        browser.go("/sign-in");
        keys.to("[name='username']").types(handed.signInName());
        keys.to("[name='password']").types(handed.password()).entersAndLeaves();
        keys.to("[name='currentPassword']").types(handed.password());
        keys.to("[name='newPassword']").types(OWN_PASSWORD);
        keys.to("[name='repeatedPassword']").types(OWN_PASSWORD).entersAndLeaves();
        assertThat(browser.path()).doesNotContain("password", "sign-in");
    }

    private void booksANewPatient(WebBrowser browser, Keyboard keys) {
        browser.go("/day");
        keys.leavesBy("a[href='/referrals']").skipsTheHead().leavesBy("main a[href='/referrals/new']");
        assertThat(browser.path()).startsWith("/referrals/new");
        keys.to("[name='familyName']").types("Thistlewade");
        keys.to("[name='givenName']").types("Orla");
        keys.to("[name='dateOfBirth']").types("03041951");
        keys.to("[name='contact']").types("01632 960125");
        keys.chooses("ears", "both").chooses("method", "microsuction").chooses("firstVisit", "yes");
        keys.to("[name='softenerDays']").types("4");
        keys.switches("[name='noneFlagged']").switches("[name='noneOfThese']");
        keys.leavesBy("button.primary");
        keys.skipsTheHead().leavesBy(".offers .best button");
        browser.sees("Thistlewade, Orla");
        assertThat(booked()).hasSize(1);
    }

    private void saysWhenTheAppointmentIs(WebBrowser browser, Keyboard keys) {
        browser.go("/kit");
        keys.seeks("thistle orla");
        browser.sees("Wed 2 Sept 2026");
    }

    private void readsTheLetter(WebBrowser browser, Keyboard keys) {
        keys.leavesBy("#appointments a[href$='/letters/confirmation']");
        keys.to("[data-print]");
        browser.sees("Wednesday 2 September");
    }

    private void movesIt(WebBrowser browser, Keyboard keys) {
        String before = booked().toString();
        keys.seeks("01632 960125").skipsTheHead().leavesBy("#appointments a[href^='/slots?appointment=']");
        keys.skipsTheHead().leavesBy(".offers button");
        keys.to("main button");
        browser.sees("Thistlewade, Orla");
        assertThat(bookedAnywhere()).hasSize(1);
        assertThat(booked().toString()).isNotEqualTo(before);
    }

    private void cancelsIt(WebBrowser browser, Keyboard keys) {
        keys.seeks("thistle orla").skipsTheHead().leavesBy("#appointments a[href$='#cancel']");
        keys.leavesBy("#cancel button[value='patient']");
        assertThat(bookedAnywhere()).isEmpty();
    }

    private void putsAKnownPatientOnTheWaitingList(WebBrowser browser, Keyboard keys) {
        keys.seeks("orla").skipsTheHead().leavesBy("#appointments a[href^='/referrals/new']");
        keys.chooses("ears", "left").switches("[name='noneFlagged']").switches("[name='noneOfThese']");
        keys.leavesBy(".next-step button:not(.primary)");
        keys.skipsTheHead().leavesBy("form[action$='/waiting'] button");
        assertThat(referrals.findAll().stream()
                        .filter(each -> each.clinicId().equals(clinic.id()))
                        .map(Referral::status))
                .contains(ReferralStatus.WAITING);
    }

    private void correctsTheAddress(WebBrowser browser, Keyboard keys) {
        keys.seeks("orla").skipsTheHead().switches("#details summary");
        keys.to("#details [name='postalAddress']").types("7 Thistle Row");
        keys.leavesBy("#details form button");
        browser.sees("7 Thistle Row");
    }

    private void setsUpARoom(WebBrowser browser, Keyboard keys) {
        keys.to(".menu.manage > summary").press(Keys.ENTER);
        keys.leavesBy(".menu.manage a[href='/setup']").skipsTheHead().to("form[action='/setup/rooms'] [name='name']");
        keys.types("Larch room").entersAndLeaves();
        assertThat(rooms.findByClinicIdOrderByName(clinic.id()))
                .extracting(Room::name)
                .contains("Larch room");
    }

    private void readsTheReview(WebBrowser browser, Keyboard keys) {
        keys.leavesBy(".places a[href='/review']");
        assertThat(browser.path()).startsWith("/review");
        keys.skipsTheHead().to("main a, main summary, main button");
    }

    private List<Appointment> booked() {
        return appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinic.id(), TOMORROW).stream()
                .filter(one -> one.status() == AppointmentStatus.BOOKED)
                .toList();
    }

    private List<Appointment> bookedAnywhere() {
        return appointments.findAll().stream()
                .filter(one -> one.clinicId().equals(clinic.id()))
                .filter(one -> one.status() == AppointmentStatus.BOOKED)
                .toList();
    }
}
