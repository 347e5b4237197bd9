package org.earslot.journey;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.assertj.core.api.SoftAssertions;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.booking.DiaryFixture;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.earslot.testing.ServerTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/**
 * No page is wider than the screen of a computer, a tablet or a phone, and what is pressed is large enough: for a finger
 * where people stand, for a pointer elsewhere (44 and 24 pixels are the sizes of the Web Content Accessibility
 * Guidelines 2.2, levels AAA and AA).
 */
@ServerTest
class ScreenWidthTest {

    private static final LocalDate TODAY = LocalDate.of(2026, 3, 3);
    private static final int FINGER = 44;
    private static final int POINTER = 24;
    private static final int TABLET = 820;
    private static final List<String> MANAGEMENT = List.of(
            "/setup",
            "/setup/begin",
            "/setup/style",
            "/setup/cautions",
            "/setup/red-flags",
            "/setup/letters",
            "/setup/backup",
            "/setup/cover",
            "/setup/trays",
            "/accounts",
            "/audit",
            "/estimator",
            "/estimator/answers",
            "/plan",
            "/import",
            "/review",
            "/estimate",
            "/patients",
            "/password");
    private static final List<Integer> WIDTHS = List.of(1280, 820, 390, 320);

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
    private Referrals referrals;

    @Autowired
    private SettableClock clock;

    @Test
    void pages_of_a_running_day_fit_every_screen() throws IOException {
        clock.set(Instant.parse("2026-03-03T09:10:00Z"));
        TestClinic clinic = clinics.open();
        UUID visit = booked(clinic, "Quenderby", 0);
        for (int i = 1; i < 4; i++) {
            booked(clinic, "Thistledownham" + i, i);
        }
        bookedUnasked(clinic, "Marrowbyfield", 4);
        List<String> pages = List.of(
                "/day/" + TODAY,
                "/day/" + TODAY + "/now",
                "/day/" + TODAY + "/sheet",
                "/day/" + TODAY + "/week",
                "/appointments/" + visit,
                "/appointments/" + visit + "/arrival",
                "/referrals",
                "/referrals/new",
                "/kit");
        WebBrowser.tell(folder.resolve("profile"), port, "screen-width-where-it-stopped", browser -> {
            browser.signIn(accountAdministration
                    .admit(clinic.id(), "p" + UUID.randomUUID(), "P1", Role.PRACTITIONER, clinic.p1())
                    .orElseThrow());
            fits(browser, pages);
        });
    }

    @Test
    void pages_of_the_management_fit_every_screen() throws IOException {
        clock.set(Instant.parse("2026-03-03T09:10:00Z"));
        TestClinic clinic = clinics.open();
        booked(clinic, "Quenderby", 0);
        WebBrowser.tell(folder.resolve("profile"), port, "management-width-where-it-stopped", browser -> {
            browser.signIn(accountAdministration
                    .admit(clinic.id(), "l" + UUID.randomUUID(), "Lead", Role.LEAD, null)
                    .orElseThrow());
            fits(browser, MANAGEMENT);
        });
    }

    private static void fits(WebBrowser browser, List<String> pages) {
        SoftAssertions all = new SoftAssertions();
        for (int width : WIDTHS) {
            browser.width(width);
            for (String page : pages) {
                browser.go(page);
                all.assertThat(browser.tooWide())
                        .as("%s at %d pixels", page, width)
                        .isLessThanOrEqualTo(0);
                boolean standing = page.endsWith("/now")
                        || (page.startsWith("/day/")
                                && !page.endsWith("/sheet")
                                && !page.endsWith("/week")
                                && width <= TABLET);
                all.assertThat(browser.smallerThan(standing ? FINGER : POINTER))
                        .as("%s at %d pixels, too small", page, width)
                        .isEmpty();
            }
        }
        all.assertAll();
    }

    private UUID booked(TestClinic clinic, String familyName, int place) {
        return fixture.appointment(
                clinic,
                referral(clinic, familyName),
                fixture.place(clinic, TODAY.atTime(9, 30).plusMinutes(30L * place), 30));
    }

    /** Booked, and then found not to have been asked the red flags: the longest label. */
    private void bookedUnasked(TestClinic clinic, String familyName, int place) {
        Referral referral = referral(clinic, familyName);
        fixture.appointment(
                clinic, referral, fixture.place(clinic, TODAY.atTime(9, 30).plusMinutes(30L * place), 30));
        Referral booked =
                referrals.findByClinicIdAndId(clinic.id(), referral.id()).orElseThrow();
        booked.amend(booked.details().with(RedFlagAnswers.NOT_ASKED));
        referrals.saveAndFlush(booked);
    }

    private Referral referral(TestClinic clinic, String familyName) {
        return fixture.referral(
                clinic,
                fixture.patient(clinic, familyName, "Pat"),
                DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, null, null, null));
    }
}
