package org.earslot.journey;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Referral;
import org.earslot.testing.ServerTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/**
 * The main pages and the page of all parts look as the pictures stored in {@code src/test/resources/look}, whatever the
 * fonts of this machine. After a change made on purpose, record again, look at target/journey/look-*.png, and commit:
 *
 * <pre>mvn test -Dtest=LookTest -Dlook.record=true</pre>
 */
@ServerTest
class LookTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final Path STORED = Path.of("src/test/resources/look");
    private static final boolean RECORD = Boolean.getBoolean("look.record");
    private static final int MOST_BLOCKS_UNLIKE = 150;
    private static final double MOST_AREA_UNLIKE = 0.34;
    private static final Map<String, int[]> SCREENS =
            Map.of("desk", new int[] {1280, 1200}, "tablet", new int[] {820, 1180}, "phone", new int[] {390, 844});

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
    void pages_look_as_stored() throws IOException {
        clock.set(Instant.parse("2026-03-03T09:10:00Z"));
        TestClinic clinic = clinics.open();
        UUID visit = booked(clinic, "Quenderby", 0, Ears.BOTH);
        booked(clinic, "Marrowbyfield", 1, Ears.LEFT);
        Map<String, String> pages = new LinkedHashMap<>();
        pages.put("parts", "/setup/style");
        pages.put("day", "/day/" + TODAY);
        pages.put("running-list", "/day/" + TODAY + "/now");
        pages.put("appointment", "/appointments/" + visit);
        pages.put("referral-form", "/referrals/new");
        WebBrowser.tell(folder.resolve("profile"), port, "look-where-it-stopped", browser -> {
            browser.signIn(accountAdministration
                    .admit(clinic.id(), "l" + UUID.randomUUID(), "Lead", Role.LEAD, null)
                    .orElseThrow());
            for (Map.Entry<String, int[]> screen : SCREENS.entrySet()) {
                browser.screen(screen.getValue()[0], screen.getValue()[1]);
                for (Map.Entry<String, String> page : pages.entrySet()) {
                    browser.go(page.getValue());
                    browser.rests();
                    looksAsStored(browser, page.getKey() + "-" + screen.getKey());
                }
            }
            findsWhatIsBroken(browser);
        });
    }

    private static void looksAsStored(WebBrowser browser, String name) throws IOException {
        browser.picture("look-" + name);
        Look now = Look.of(browser.shows());
        Path stored = STORED.resolve(name + ".png");
        if (RECORD) {
            now.write(stored);
        }
        assertThat(isAlike(Look.read(stored), now))
                .as("%s looks as stored: %s", name, how(Look.read(stored), now))
                .isTrue();
    }

    /** Pictures that another font passes, and another colour, a missing part or a narrower page does not. */
    private static void findsWhatIsBroken(WebBrowser browser) throws IOException {
        browser.screen(1280, 1200);
        assertThat(alikeWith(browser, "document.body.style.fontFamily = 'serif'"))
                .as("another font")
                .isTrue();
        assertThat(alikeWith(browser, "document.querySelector('.primary').style.background = '#9a3412'"))
                .as("the filled button in another colour")
                .isFalse();
        assertThat(alikeWith(browser, "document.querySelector('.warning').style.background = 'none'"))
                .as("a warning without its tint")
                .isFalse();
        assertThat(alikeWith(browser, "document.querySelector('.primary').remove()"))
                .as("no filled button")
                .isFalse();
        assertThat(alikeWith(browser, "document.querySelector('main').style.maxWidth = '50rem'"))
                .as("a narrower page")
                .isFalse();
    }

    private static boolean alikeWith(WebBrowser browser, String change) throws IOException {
        browser.go("/setup/style");
        browser.rests();
        browser.driver().executeScript(change);
        return isAlike(Look.read(STORED.resolve("parts-desk.png")), Look.of(browser.shows()));
    }

    private static boolean isAlike(Look stored, Look now) {
        return blocksUnlike(stored, now) <= MOST_BLOCKS_UNLIKE && stored.areaUnlike(now) <= MOST_AREA_UNLIKE;
    }

    private static String how(Look stored, Look now) {
        return blocksUnlike(stored, now) + " blocks, " + stored.areaUnlike(now) + " of a colour's area differ";
    }

    private static int blocksUnlike(Look stored, Look now) {
        return Math.max(stored.blocksUnlike(now), now.blocksUnlike(stored));
    }

    private UUID booked(TestClinic clinic, String familyName, int place, Ears ears) {
        Referral referral = fixture.referral(
                clinic,
                fixture.patient(clinic, familyName, "Pat"),
                DiaryFixture.details(Method.MICROSUCTION, ears, null, null, null));
        return fixture.appointment(
                clinic, referral, fixture.place(clinic, TODAY.atTime(9, 30).plusMinutes(30L * place), 30));
    }
}
