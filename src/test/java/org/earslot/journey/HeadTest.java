package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.UUID;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.testing.ServerTest;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/** The head of every page is one line, and its menus are opened and closed by keyboard. */
@ServerTest
class HeadTest {

    private static final By MANAGE = By.cssSelector(".menu.manage > summary");
    private static final By SET_UP = By.cssSelector(".menu.manage .panel a[href='/setup']");
    private static final int ONE_LINE = 60;

    @LocalServerPort
    private int port;

    @TempDir
    private Path folder;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private AccountAdministration administration;

    @Test
    void is_one_line_for_a_lead_who_has_the_most_to_choose_from() throws IOException {
        TestClinic clinic = clinics.open();
        WebBrowser.tell(folder.resolve("profile"), port, "head-where-it-stopped", browser -> {
            browser.signIn(administration
                    .admit(clinic.id(), "l" + UUID.randomUUID(), "Lead", Role.LEAD, null)
                    .orElseThrow());
            for (int width : List.of(1280, 820, 390, 320)) {
                browser.width(width);
                browser.go("/referrals");
                assertThat(browser.find(By.cssSelector(".top")).getSize().height)
                        .as("head at %d pixels", width)
                        .isLessThanOrEqualTo(ONE_LINE);
                assertThat(browser.driver()
                                .findElement(By.cssSelector(".menu.whole"))
                                .isDisplayed())
                        .isEqualTo(width < 768);
                assertThat(browser.driver().findElement(MANAGE).isDisplayed()).isEqualTo(width >= 768);
            }
            opensAndClosesByKeyboard(browser);
            findsOnAPhone(browser);
        });
    }

    private static void opensAndClosesByKeyboard(WebBrowser browser) {
        browser.width(1280);
        browser.go("/referrals");
        WebElement manage = browser.find(MANAGE);
        assertThat(browser.driver().findElement(SET_UP).isDisplayed()).isFalse();
        manage.sendKeys(Keys.ENTER);
        await().until(() -> browser.driver().findElement(SET_UP).isDisplayed());
        browser.driver().switchTo().activeElement().sendKeys(Keys.TAB);
        browser.driver().switchTo().activeElement().sendKeys(Keys.ESCAPE);
        await().until(() -> !browser.driver().findElement(SET_UP).isDisplayed());
        assertThat(browser.driver().switchTo().activeElement()).isEqualTo(manage);
        manage.sendKeys(Keys.ENTER);
        await().until(() -> browser.driver().findElement(SET_UP).isDisplayed());
        browser.find(By.tagName("h1")).click();
        await().until(() -> !browser.driver().findElement(SET_UP).isDisplayed());
    }

    private static void findsOnAPhone(WebBrowser browser) {
        browser.width(390);
        browser.go("/referrals");
        browser.find(By.cssSelector(".find-sign")).click();
        assertThat(browser.driver().switchTo().activeElement().getAttribute("id"))
                .isEqualTo("find");
        browser.driver().switchTo().activeElement().sendKeys("Quenderby", Keys.ENTER);
        await().until(() -> browser.path().startsWith("/patients"));
    }
}
