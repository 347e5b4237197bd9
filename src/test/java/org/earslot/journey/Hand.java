package org.earslot.journey;

import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/**
 * Does what a person does and counts it. Each click counts as one, each key that sends or switches as one, Enter as much as
 * any other, and each field that is typed into as one. By keys alone nothing is clicked: Tab reaches what is pressed, and is
 * not counted.
 */
final class Hand {

    private final WebBrowser browser;
    private final boolean keysAlone;
    private int presses;
    private int fields;

    /** Begins on that page. */
    Hand(WebBrowser browser, String path) {
        this(browser, path, false);
    }

    Hand(WebBrowser browser, String path, boolean keysAlone) {
        this.browser = browser;
        this.keysAlone = keysAlone;
        browser.go(path);
        browser.rests();
    }

    int interactions() {
        return presses + fields;
    }

    int fields() {
        return fields;
    }

    Hand types(By field, String text) {
        browser.rests();
        if (keysAlone) {
            browser.tabTo(field).sendKeys(text);
        } else {
            browser.find(field).sendKeys(text);
        }
        browser.rests();
        fields++;
        return this;
    }

    /** Sends the form of the field that was typed into last. */
    Hand sendsByEnter() {
        browser.driver().switchTo().activeElement().sendKeys(Keys.ENTER);
        browser.rests();
        presses++;
        return this;
    }

    Hand presses(By what) {
        if (keysAlone) {
            WebElement reached = browser.tabTo(what);
            reached.sendKeys("input".equals(reached.getTagName()) ? Keys.SPACE : Keys.ENTER);
        } else {
            browser.press(what);
        }
        browser.rests();
        presses++;
        return this;
    }

    Hand ticks(String field, String value) {
        browser.tick(field, value);
        presses++;
        return this;
    }

    /** By the search in the head of the page. */
    Hand seeks(String text) {
        types(By.id("find"), text).sendsByEnter();
        browser.find(By.id("appointments"));
        return this;
    }

    Hand follows(String link) {
        return leavesBy(By.xpath("//a[normalize-space()='" + link + "']"));
    }

    Hand leavesBy(String button) {
        return leavesBy(By.xpath("//main//button[normalize-space()='" + button + "' and not(@aria-hidden)]"));
    }

    Hand leavesBy(By what) {
        browser.leaveBy(what);
        presses++;
        return this;
    }
}
