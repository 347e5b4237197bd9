package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.EnumSet;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.referral.ReferralDrafts;
import org.earslot.referral.Referrals;
import org.earslot.testing.OnH2;
import org.earslot.testing.SettableClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.annotation.Import;
import org.springframework.test.annotation.DirtiesContext;

/**
 * One person from referral to follow-up in a real browser: asked for red flags and cautions, methods side by side, booked,
 * irrigated twice with a wait outside, not clear, followed up by another method, called off, and the gap offered on.
 * Skipped where no browser is found, unless {@code EARSLOT_BROWSER_REQUIRED=true}.
 */
@SpringBootTest(
        webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT,
        // An application and a database of its own, apart from those of the other journey.
        properties = "journey=follow-up")
@ExtendWith(OutputCaptureExtension.class)
@Import(SettableClock.Bringing.class)
// A story told a second time needs a new clinic.
@DirtiesContext
@OnH2
class FollowUpJourneyTest {

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
    private Referrals referrals;

    @Autowired
    private ReferralDrafts drafts;

    @Test
    void leads_one_person_from_referral_to_follow_up(CapturedOutput log) throws IOException {
        clock.set(MORNING);
        WebBrowser.tell(folder.resolve("profile"), port, "follow-up-where-it-stopped", browser -> {
            opensTheClinic(browser, log);
            stopsAtARedFlag(browser);
            takesAReferralIn(browser);
            comparesMethodsAndBooks(browser);
            triesTwice(browser);
            followsUp(browser);
            offersTheGap(browser);
        });
    }

    private void opensTheClinic(WebBrowser browser, CapturedOutput log) {
        NewClinic.opensAndSignsIn(browser, log, "Follow-up Clinic");
        ClinicId clinic = clinics.findAll().get(0).id();
        UUID who = practitioners
                .save(new Practitioner(UUID.randomUUID(), clinic, "P1", Ear.RIGHT, EnumSet.allOf(Method.class)))
                .id();
        UUID room = rooms.save(new Room(UUID.randomUUID(), clinic, "R1")).id();
        sessions.save(new WeeklySession(
                UUID.randomUUID(),
                clinic,
                who,
                room,
                DayOfWeek.TUESDAY,
                new TimeSpan(LocalTime.of(9, 0), LocalTime.of(17, 0)),
                null,
                LocalDate.of(2026, 8, 1)));
    }

    private void stopsAtARedFlag(WebBrowser browser) throws IOException {
        browser.go("/referrals/new");
        browser.type("familyName", "Fernsby");
        browser.type("contact", "01632 960124");
        browser.tick("flag.button_battery", "yes");
        browser.sees("Emergency department, now. Put no drops in.");
        browser.picture("follow-up-1-red-flag");
        browser.tick("noneFlagged", "yes");
        assertThat(browser.find(By.cssSelector("input[name='flag.button_battery'][value='yes']"))
                        .isSelected())
                .as("a yes that was given")
                .isTrue();
        browser.press(By.id("noneFlagged"));
        browser.tick("ears", "left");
        browser.tick("method", "irrigation");
        browser.press("Save");
        browser.sees("Red flag: not for routine booking");
        assertThat(browser.text()).doesNotContain("Find a slot");
        browser.picture("follow-up-2-stopped");
        browser.sees("A clinician decides what follows");
        browser.type("told", "the emergency department, at once");
        browser.press("Record");
        browser.sees("It is noted on the referral.");
    }

    private void takesAReferralIn(WebBrowser browser) throws IOException {
        browser.go("/referrals/new");
        browser.type("familyName", "Thistlewade");
        browser.type("givenName", "Orla");
        browser.type("contact", "01632 960125");
        browser.tick("noneFlagged", "yes");
        browser.sees("Draft saved at");
        browser.openGroupOf("cautions", "noise_intolerance");
        browser.tick("cautions", "noise_intolerance");
        browser.tick("noneOfThese", "yes");
        assertThat(browser.text()).doesNotContain("Possible match");
        browser.picture("follow-up-3-cautions");
        browser.tick("ears", "left");
        browser.tick("method", "irrigation");
        browser.choose("leftWax", "firm");
        browser.find(By.cssSelector("#estimate .estimate-slot"));
        asksTheMostUsefulQuestionFirst(browser);
        browser.picture("follow-up-3-form");
        browser.press("Save");
        browser.sees("The referral is saved.");
        assertThat(drafts.count()).isZero();
        browser.picture("follow-up-4-referral");
    }

    /** Nothing moves while the hand is among the length questions; once it is elsewhere, the keyboard meets the first one. */
    private void asksTheMostUsefulQuestionFirst(WebBrowser browser) {
        assertThat(browser.find(By.id("ask-first")).isDisplayed()).isFalse();
        browser.press(By.name("contact"));
        browser.sees("Ask first:");
        browser.sees("Who can answer:");
        assertThat(browser.driver()
                        .executeScript(
                                "return document.querySelector('#length select')" + ".closest('#ask-first') !== null"))
                .isEqualTo(true);
        String first = browser.nameOf(By.cssSelector("#ask-first select"));
        browser.press(By.name(first));
        browser.press(By.cssSelector("#length legend"));
        assertThat(browser.nameOf(By.cssSelector("#ask-first select"))).isEqualTo(first);
    }

    private void comparesMethodsAndBooks(WebBrowser browser) throws IOException {
        browser.follow("Methods side by side, with their time in room");
        browser.sees("Planned.");
        assertThat(browser.text()).contains("noise intolerance").doesNotContain("cautions not asked");
        browser.picture("follow-up-5-methods");
        browser.follow("Find a slot");
        browser.set("from", "2026-09-01");
        browser.set("to", "2026-09-01");
        browser.press("Search");
        browser.sees("Tue 1 Sep");
        browser.takesAnOffer();
        browser.find(By.xpath("//main//button[normalize-space()='Undo']"));
        browser.follow("Confirmation");
        browser.sees("for up to 5 days before you come");
        browser.picture("follow-up-6-confirmation");
        browser.follow("Back");
    }

    private void triesTwice(WebBrowser browser) throws IOException {
        browser.press("Check in: nothing new");
        browser.press("Call in");
        browser.sees("Back to the waiting room for 15 minutes, then a second attempt");
        clock.advance(Duration.ofMinutes(9));
        browser.press("Back to the waiting room for 15 minutes, then a second attempt");
        browser.sees("call in again from 10:24");
        browser.picture("follow-up-7-outside");
        clock.advance(Duration.ofMinutes(15));
        browser.press("Call in again");
        browser.sees("called in again 10:24");
        clock.advance(Duration.ofMinutes(8));
        browser.press("Finished");
        browser.sees("Room ready");
        browser.tick("left.method1", "irrigation");
        browser.tick("left.method2", "irrigation");
        browser.tick("left.wax", "hard");
        browser.tick("left.outcome", "residual");
        browser.tick("nextStep", "come_again");
        browser.press(By.cssSelector("form[action$='/findings'] > button"));
        browser.sees("What follows (left)");
        assertThat(browser.text()).contains("Irrigation has failed twice");
        browser.picture("follow-up-8-what-follows");
    }

    private void followsUp(WebBrowser browser) throws IOException {
        browser.press(By.xpath("//main//button[starts-with(normalize-space(),'Follow-up by microsuction')]"));
        browser.sees("Follow-up referral made.");
        assertThat(browser.text()).contains("consistency: hard").contains("Sun 6 Sept 2026");
        browser.picture("follow-up-9-follow-up");
        browser.sees("Red flags still to ask: not ready to book");
        browser.follow("Ask them now");
        browser.tick("noneFlagged", "yes");
        browser.press("Save");
        browser.sees("The referral is changed.");
        browser.follow("Find a slot");
        browser.takesAnOffer();
        browser.find(By.xpath("//main//button[normalize-space()='Undo']"));
        assertThat(browser.text()).contains("8 September 2026");
    }

    private void offersTheGap(WebBrowser browser) throws IOException {
        browser.type("why", "away that week");
        browser.press("Cancelled by the patient");
        browser.follow("Offer this slot to the waiting list");
        browser.sees("A slot has come free");
        browser.picture("follow-up-10-gap");
        assertThat(referrals.count()).isEqualTo(3);
        browser.go("/kit");
        browser.picture("follow-up-11-kit");
        browser.go("/setup/cautions");
        browser.picture("follow-up-12-cautions");
        browser.go("/setup/red-flags");
        browser.picture("follow-up-13-red-flags");
        browser.go("/referrals");
        browser.picture("follow-up-14-referrals");
    }
}
