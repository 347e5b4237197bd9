package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.openqa.selenium.By;
import org.springframework.boot.test.system.CapturedOutput;

/** The first minutes of a new installation: the code that was printed makes a clinic and its lead, who signs in. */
final class NewClinic {

    private static final Pattern CODE = Pattern.compile("serves once: (\\S+)");
    private static final String PASSWORD = "a long enough phrase";
    private static final By BUTTON = By.cssSelector("main form button");

    private NewClinic() {}

    static void opensAndSignsIn(WebBrowser browser, CapturedOutput log, String name) {
        Matcher code = CODE.matcher(log.getAll());
        assertThat(code.find()).isTrue();
        browser.go("/first-sign-in");
        browser.type("code", code.group(1));
        browser.type("clinicName", name);
        browser.choose("timeZone", "Europe/London");
        browser.type("displayName", "The lead");
        browser.type("signInName", "lead");
        browser.type("password", PASSWORD);
        browser.type("repeated", PASSWORD);
        browser.leaveBy(BUTTON);
        assertThat(browser.path()).doesNotContain("first-sign-in");
        browser.go("/sign-in");
        if (browser.path().startsWith("/sign-in")) {
            browser.type("username", "lead");
            browser.type("password", PASSWORD);
            browser.leaveBy(BUTTON);
        }
        browser.go("/day");
        assertThat(browser.path()).startsWith("/day");
    }
}
