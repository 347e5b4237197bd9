package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.util.Map;
import org.openqa.selenium.Keys;
import org.openqa.selenium.interactions.Actions;

/** Somebody who has no mouse: keys alone, and at each stop it can be seen where they are. */
final class Keyboard {

    /** More stops than any page has. */
    private static final int MOST = 400;

    /** Where the focus is; how it shows; whether it is all hidden, as by a bar fixed over the page. */
    private static final String STOP = """
            const at = document.activeElement;
            const tap = at.closest('.tap')?.querySelector('input + span');
            const shown = [at, tap].filter(Boolean).map((each) => getComputedStyle(each))
              .some((style) => style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2);
            const boxes = [at, at.closest('label')].filter(Boolean).map((each) => each.getBoundingClientRect());
            const inSight = boxes.some((box) => [[.5, .5], [.1, .2], [.9, .2], [.1, .8], [.9, .8]]
              .map(([x, y]) => document.elementFromPoint(box.left + box.width * x, box.top + box.height * y))
              .some((hit) => hit && (at.contains(hit) || hit.contains(at) || at.closest('label')?.contains(hit))));
            return {what: at.outerHTML.slice(0, 160), shown, inSight, page: at === document.body};
            """;

    private final WebBrowser browser;

    Keyboard(WebBrowser browser) {
        this.browser = browser;
    }

    /** Goes from stop to stop until there. */
    Keyboard to(String css) {
        browser.rests();
        for (int stops = 0; stops < MOST && !isAt(css); stops++) {
            press(Keys.TAB);
            canBeSeen();
        }
        assertThat(isAt(css))
                .as("the key Tab leads to %s on %s", css, browser.path())
                .isTrue();
        return this;
    }

    /** By the key that leads to the search from anywhere. */
    Keyboard seeks(String text) {
        browser.rests();
        press("/");
        assertThat(isAt("#find")).as("the key / leads to the search").isTrue();
        return types(text).entersAndLeaves();
    }

    /** By the first stop of the page, past the head. */
    Keyboard skipsTheHead() {
        to(".skip");
        press(Keys.ENTER);
        assertThat(isAt("main")).as("past the head").isTrue();
        return this;
    }

    Keyboard types(String text) {
        press(text);
        return this;
    }

    /** A box that is ticked, or a part that is opened. */
    Keyboard switches(String css) {
        to(css);
        press(Keys.SPACE);
        return this;
    }

    /** One of a group of which only one can be chosen: to the group by Tab, within it by arrows. */
    Keyboard chooses(String name, String value) {
        String chosen = "input[name='" + name + "'][value='" + value + "']";
        to("input[name='" + name + "']");
        press(Keys.SPACE);
        for (int i = 0; i < 10 && !isAt(chosen); i++) {
            press(Keys.ARROW_DOWN);
        }
        assertThat(isAt(chosen + ":checked")).as("%s is chosen", chosen).isTrue();
        return this;
    }

    /** Presses what has the focus, and waits for the page that it leads to. */
    Keyboard entersAndLeaves() {
        browser.driver().executeScript("window.beforeLeaving = true");
        press(Keys.ENTER);
        await().ignoreExceptions()
                .until(() -> Boolean.TRUE.equals(browser.driver()
                        .executeScript("return !window.beforeLeaving && document.readyState === 'complete'")));
        browser.rests();
        return this;
    }

    Keyboard leavesBy(String css) {
        return to(css).entersAndLeaves();
    }

    void press(CharSequence... keys) {
        new Actions(browser.driver()).sendKeys(keys).perform();
    }

    private boolean isAt(String css) {
        return Boolean.TRUE.equals(
                browser.driver().executeScript("return document.activeElement.matches(arguments[0])", css));
    }

    @SuppressWarnings("unchecked")
    private void canBeSeen() {
        Map<String, Object> stop = (Map<String, Object>) browser.driver().executeScript(STOP);
        if (!Boolean.TRUE.equals(stop.get("page"))) {
            assertThat(stop.get("shown"))
                    .as("focus shows on %s", stop.get("what"))
                    .isEqualTo(true);
            assertThat(stop.get("inSight")).as("in sight: %s", stop.get("what")).isEqualTo(true);
        }
    }
}
