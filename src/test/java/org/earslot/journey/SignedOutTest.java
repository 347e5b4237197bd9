package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.testing.ServerTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/** After somebody has signed out, a real browser holds nothing of a patient: not in its stores, nor behind "back". */
@ServerTest
class SignedOutTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final By SIGN_OUT = By.cssSelector(".menu.account form.sign-out button");

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
    private SettableClock clock;

    @Test
    void leaves_nothing_of_a_patient_in_the_browser() throws IOException {
        clock.set(Instant.parse("2026-03-03T08:40:00Z"));
        TestClinic clinic = clinics.open();
        UUID visit = fixture.appointment(
                clinic,
                fixture.referral(
                        clinic,
                        fixture.patient(clinic, "Quenderby", "Pat"),
                        DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null)),
                fixture.place(clinic, TODAY.atTime(9, 0), 30));
        WebBrowser.tell(folder.resolve("profile"), port, "signed-out-where-it-stopped", browser -> {
            signsIn(browser, clinic);
            browser.go("/day/" + TODAY + "/now");
            browser.sees("Quenderby, Pat");
            // A press that still waits, of somebody else who used this browser, so that it is not sent meanwhile.
            browser.driver()
                    .executeScript(
                            "localStorage.setItem('earslot.presses', JSON.stringify([{key: 'k', id: arguments[0],"
                                    + " what: 'call-in', who: 'another', at: Date.now(), label: '09:00', tried: true}]));",
                            visit.toString());
            browser.press(By.cssSelector(".menu.account > summary"));
            browser.press(SIGN_OUT);
            browser.driver().switchTo().alert().dismiss();
            assertThat(stored(browser)).contains(visit.toString());
            browser.press(SIGN_OUT);
            browser.driver().switchTo().alert().accept();
            await().until(() -> browser.path().startsWith("/sign-in"));
            assertThat(stored(browser))
                    .as("where the browser was last is kept by the library, and names the sign-in page alone")
                    .isEqualTo("{}{\"htmx-current-path-for-history\":\"/sign-in?out\"}");
            for (int back = 0; back < 3; back++) {
                browser.driver().navigate().back();
                browser.rests();
                assertThat(browser.find(By.tagName("html")).getAttribute("outerHTML"))
                        .doesNotContain("Quenderby")
                        .doesNotContain(visit.toString());
            }
            browser.go("/day/" + TODAY + "/now");
            assertThat(browser.path()).startsWith("/sign-in");
        });
    }

    private void signsIn(WebBrowser browser, TestClinic clinic) {
        browser.signIn(accountAdministration
                .admit(clinic.id(), "p" + UUID.randomUUID(), "P1", Role.PRACTITIONER, clinic.p1())
                .orElseThrow());
    }

    private static String stored(WebBrowser browser) {
        return String.valueOf(
                browser.driver().executeScript("return JSON.stringify(localStorage) + JSON.stringify(sessionStorage)"));
    }
}
