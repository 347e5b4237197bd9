package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.earslot.account.AccountAdministration;
import org.junit.jupiter.api.Assumptions;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebDriverException;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.support.ui.ExpectedCondition;
import org.openqa.selenium.support.ui.ExpectedConditions;
import org.openqa.selenium.support.ui.Select;
import org.openqa.selenium.support.ui.WebDriverWait;

/** A headless Chromium of this machine, driven as a person would drive it. */
final class WebBrowser implements AutoCloseable {

    private static final String CHOSEN = "four unrelated words here";
    private static final Duration BEFORE_PRESSING_AGAIN = Duration.ofSeconds(20);

    private static final int MOST_TABS = 200;

    /** Whether the middle of a part is what is seen there, or its label is. */
    private static final String IN_SIGHT = """
            const [part] = arguments;
            const { x, y, width, height } = part.getBoundingClientRect();
            const seen = document.elementFromPoint(x + width / 2, y + height / 2);
            return part.contains(seen) || [...(part.labels ?? [])].some((label) => label.contains(seen));
            """;

    private final ChromeDriver driver;
    private final String base;
    private final WebDriverWait patience;

    private WebBrowser(ChromeDriver driver, String base) {
        this.driver = driver;
        this.base = base;
        this.patience = new WebDriverWait(driver, Duration.ofSeconds(90));
        // While a page gives way to the next, the driver may answer any question with an error: it is asked again.
        patience.ignoring(WebDriverException.class);
    }

    /** A browser and its driver on the path, or empty. */
    private static Optional<Path[]> found() {
        return onPath("chromium", "chromium-browser", "google-chrome")
                .flatMap(browser -> onPath("chromedriver").map(driver -> new Path[] {browser, driver}));
    }

    private static Optional<Path> onPath(String... names) {
        String path = Optional.ofNullable(System.getenv("PATH")).orElse("");
        return Arrays.stream(names)
                .flatMap(name -> Arrays.stream(path.split(File.pathSeparator)).map(folder -> Path.of(folder, name)))
                .filter(Files::isExecutable)
                .findFirst();
    }

    /**
     * Lets a story happen in a browser of this machine and keeps a picture of where it stopped, if it stopped. Without a
     * browser the test is skipped, unless EARSLOT_BROWSER_REQUIRED says that there has to be one.
     */
    static void tell(Path profile, int port, String picture, Story story) throws IOException {
        Optional<Path[]> programs = found();
        if (programs.isEmpty() && "true".equals(System.getenv("EARSLOT_BROWSER_REQUIRED"))) {
            throw new AssertionError("a browser is required here: install chromium and chromedriver");
        }
        Assumptions.assumeTrue(
                programs.isPresent(),
                "no chromium and chromedriver on the path; on Debian: apt-get install chromium chromium-driver");
        try (WebBrowser browser = open(programs.get(), profile, port)) {
            try {
                story.happens(browser);
            } catch (RuntimeException | AssertionError e) {
                browser.picture(picture);
                throw e;
            }
        }
    }

    /** What a person does in a browser. */
    @FunctionalInterface
    interface Story {
        void happens(WebBrowser browser) throws IOException;
    }

    private static WebBrowser open(Path[] programs, Path profile, int port) {
        ChromeOptions options = new ChromeOptions();
        options.setBinary(programs[0].toFile());
        options.addArguments(
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--disable-dev-shm-usage",
                "--window-size=1280,800",
                "--user-data-dir=" + profile);
        ChromeDriverService service = new ChromeDriverService.Builder()
                .usingDriverExecutable(programs[1].toFile())
                .build();
        return new WebBrowser(new ChromeDriver(service, options), "http://127.0.0.1:" + port);
    }

    ChromeDriver driver() {
        return driver;
    }

    void go(String path) {
        driver.get(base + path);
    }

    String path() {
        return driver.getCurrentUrl().substring(base.length());
    }

    void type(String field, String text) {
        with(By.name(field), input -> {
            input.clear();
            input.sendKeys(text);
        });
    }

    /** Sets a date or time field, whose keys depend on the browser's language. */
    void set(String field, String value) {
        with(By.name(field), found -> set(found, value));
    }

    void set(WebElement field, String value) {
        driver.executeScript("arguments[0].value = arguments[1]", field, value);
    }

    void choose(String field, String value) {
        with(By.name(field), list -> new Select(list).selectByValue(value));
    }

    void chooseText(WebElement field, String text) {
        new Select(field).selectByVisibleText(text);
    }

    void tick(String field, String value) {
        with(By.cssSelector("input[name='" + field + "'][value='" + value + "']"), box -> {
            if (!box.isSelected()) {
                press(box);
            }
        });
    }

    /** Opens the folded part of the page in which that box is. */
    void openGroupOf(String field, String value) {
        with(By.xpath("//details[.//input[@name='" + field + "' and @value='" + value + "']]"), group -> {
            if (group.getDomAttribute("open") == null) {
                press(group.findElement(By.tagName("summary")));
            }
        });
    }

    void attach(String field, Path file) {
        find(By.name(field)).sendKeys(file.toAbsolutePath().toString());
    }

    /** Presses the first button with exactly this text that is in view of a person. */
    void press(String text) {
        press(button(text));
    }

    private static By button(String text) {
        return By.xpath("//main//button[normalize-space()='" + text + "']");
    }

    /** Presses the first of these, found once more where the page shows itself again meanwhile. */
    void press(By what) {
        with(what, this::press);
    }

    /** Waits until the page is there and no part of it is being shown again. */
    void rests() {
        patience.until(quiet -> isQuiet());
    }

    /** A page that is still loading, or being shown again in part, may move what is pressed from under the pointer. */
    private boolean isQuiet() {
        return Boolean.TRUE.equals(driver.executeScript("return document.readyState === 'complete'"
                + " && !document.querySelector('.htmx-request, .htmx-swapping, .htmx-settling')"));
    }

    /** Presses a button until the page shows a text: a page that shows itself again meanwhile may move it from under the pointer. */
    void pressUntil(String text, String shown) {
        pressUntil(button(text), ExpectedConditions.textToBePresentInElementLocated(By.tagName("body"), shown));
    }

    /** Presses the first of these until there is one of those. */
    void pressUntil(By what, By shown) {
        pressUntil(what, ExpectedConditions.presenceOfElementLocated(shown));
    }

    private void pressUntil(By what, ExpectedCondition<?> shown) {
        patience.until(page -> {
            rests();
            page.findElements(what).stream().findFirst().ifPresent(this::press);
            return new WebDriverWait(driver, BEFORE_PRESSING_AGAIN)
                    .ignoring(WebDriverException.class)
                    .until(shown);
        });
    }

    private void with(By what, Consumer<WebElement> deed) {
        patience.until(page -> {
            if (!isQuiet()) {
                return false;
            }
            deed.accept(page.findElement(what));
            return true;
        });
    }

    void press(WebElement element) {
        driver.executeScript("arguments[0].scrollIntoView({block: 'center'})", element);
        element.click();
    }

    /**
     * Reaches by Tab, from wherever the keyboard is, the first of these that it comes to, and sees that it is neither hidden
     * nor under anything else there.
     */
    WebElement tabTo(By what) {
        for (int i = 0; i < MOST_TABS; i++) {
            rests();
            new Actions(driver).sendKeys(Keys.TAB).perform();
            WebElement at = driver.switchTo().activeElement();
            if (driver.findElements(what).contains(at)) {
                assertThat(driver.executeScript(IN_SIGHT, at))
                        .as("in sight: %s", what)
                        .isEqualTo(true);
                return at;
            }
        }
        throw new AssertionError("Tab does not come to " + what);
    }

    /** Takes the first offer of the page; one beyond the limit asks for a tick first. */
    void takesAnOffer() {
        with(By.cssSelector(".offers form"), offer -> {
            offer.findElements(By.cssSelector("input[type='checkbox']")).forEach(this::press);
            press(offer.findElement(By.tagName("button")));
        });
    }

    /** Presses what leads to another page, and waits until that page is there: its window no longer has this one's mark. */
    void leaveBy(By what) {
        find(what);
        driver.executeScript("window.beforeLeaving = true");
        pressUntil(
                what,
                page -> Boolean.TRUE.equals(
                        driver.executeScript("return !window.beforeLeaving && document.readyState === 'complete'")));
    }

    void follow(String text) {
        leaveBy(By.xpath("//main//a[normalize-space()='" + text + "']"));
    }

    WebElement find(By what) {
        return patience.until(ExpectedConditions.presenceOfElementLocated(what));
    }

    /** Signs in for the first time and chooses a password. */
    void signIn(AccountAdministration.Handed handed) {
        go("/sign-in");
        type("username", handed.signInName());
        type("password", handed.password());
        leaveBy(By.cssSelector("main form button"));
        find(By.name("currentPassword"));
        type("currentPassword", handed.password());
        type("newPassword", CHOSEN);
        type("repeatedPassword", CHOSEN);
        leaveBy(By.cssSelector("main form button"));
    }

    /** Shows pages as a screen of that width does; one below 800 is a phone's. */
    void width(int pixels) {
        driver.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", pixels, "height", 900, "deviceScaleFactor", 1, "mobile", pixels < 800));
    }

    /** Shows pages as a screen of that size does. */
    void screen(int width, int height) {
        driver.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", false));
    }

    /** By how many pixels the page is wider than the screen; at most 0 if it fits. */
    long tooWide() {
        return ((Number) driver.executeScript(
                        "return document.documentElement.scrollWidth - document.documentElement.clientWidth"))
                .longValue();
    }

    /** What can be pressed or filled in and is smaller than so many pixels, as it is or by its label. */
    @SuppressWarnings("unchecked")
    List<String> smallerThan(int pixels) {
        return (List<String>) driver.executeScript("""
                const pressed = 'button, .button, summary, select, textarea, input:not([type=hidden])';
                return Array.from(document.querySelectorAll(`main :is(${pressed})`)).filter((each) => each.checkVisibility())
                  .map((each) => (each.matches('[type=radio], [type=checkbox]') && each.closest('label')) || each)
                  .map((each) => [each, each.getBoundingClientRect()])
                  .filter(([, at]) => at.width < arguments[0] - 0.5 || at.height < arguments[0] - 0.5)
                  .map(([each, at]) => `${each.outerHTML.slice(0, 80)}: ${at.width} x ${at.height}`);
                """, pixels);
    }

    /** What the screen shows now. */
    byte[] shows() {
        return driver.getScreenshotAs(OutputType.BYTES);
    }

    /** Waits until the page shows this text. */
    void sees(String text) {
        patience.until(ExpectedConditions.textToBePresentInElementLocated(By.tagName("body"), text));
    }

    String text() {
        return patience.until(page -> page.findElement(By.tagName("main")).getText());
    }

    String nameOf(By what) {
        return patience.until(page -> page.findElement(what).getAttribute("name"));
    }

    /** Keeps a picture of the page beside the test's other reports. */
    void picture(String name) throws IOException {
        Path folder = Files.createDirectories(Path.of("target", "journey"));
        Files.write(folder.resolve(name + ".png"), driver.getScreenshotAs(OutputType.BYTES));
    }

    @Override
    public void close() {
        driver.quit();
    }
}
