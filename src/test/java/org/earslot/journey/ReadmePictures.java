package org.earslot.journey;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import org.openqa.selenium.By;

/**
 * Takes the pictures of the README from a running demo, by Chromium:
 *
 * <pre>mvn -Pbench test-compile exec:exec -Dbench=org.earslot.journey.ReadmePictures -Dbench.args=8080</pre>
 *
 * Start the demo on a working morning, so that the day has visits to show.
 */
public final class ReadmePictures {

    private static final Path PICTURES = Path.of("docs/pictures");

    private ReadmePictures() {}

    /** @param arguments the port of the demo, 8080 if none is given */
    public static void main(String[] arguments) throws IOException {
        int port = arguments.length == 0 ? 8080 : Integer.parseInt(arguments[0]);
        Files.createDirectories(PICTURES);
        Map<String, String> pages = new LinkedHashMap<>();
        pages.put("day", "/day");
        pages.put("referral", "/referrals/new");
        pages.put("review", "/review");
        Path profile = Files.createTempDirectory("readme-pictures");
        WebBrowser.tell(profile, port, "readme-where-it-stopped", browser -> {
            browser.go("/sign-in");
            browser.type("username", "lead");
            browser.type("password", "earslot-demo");
            browser.leaveBy(By.cssSelector("main form button"));
            browser.screen(1280, 800);
            for (Map.Entry<String, String> page : pages.entrySet()) {
                browser.go(page.getValue());
                browser.rests();
                Files.write(PICTURES.resolve(page.getKey() + ".png"), browser.shows());
            }
        });
    }
}
