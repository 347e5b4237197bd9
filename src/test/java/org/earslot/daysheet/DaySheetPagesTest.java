package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.caution.AskedCaution;
import org.earslot.daysheet.BookedDay.Wish;
import org.earslot.daysheet.DaySheet.SheetLine;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.testing.Browser;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

@PageTest
class DaySheetPagesTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 4);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private BookedDay bookings;

    @Autowired
    private DaySheets sheets;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void a_clinic() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
    }

    @Test
    void says_for_each_visit_what_the_practitioner_needs_in_the_morning() throws Exception {
        p1("09:00", 30, Wish.of("K1", Method.MANUAL_REMOVAL, Ears.BOTH));
        p1("09:30", 20, Wish.of("K2", Method.MICROSUCTION, Ears.RIGHT));
        mvc.perform(get("/day/2026-03-04/sheet").with(SignedIn.receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Day sheet: Wednesday 4 March 2026")))
                .andExpect(content().string(containsString("FamilyK1, Given")))
                .andExpect(content().string(containsString(">manual removal<")))
                .andExpect(content().string(containsString("hook; forceps in the outer third only")))
                .andExpect(content().string(containsString("long steel")))
                .andExpect(content().string(containsString("specula, light or loupes, apron, tissues")))
                .andExpect(content().string(containsString("softener: 5 days")))
                .andExpect(content()
                        .string(containsString("Not clear by 09:30: finish this ear, consider rebooking the other")))
                .andExpect(content().string(containsString("data-slot=\"30\"")))
                .andExpect(content().string(containsString("Usually ")))
                .andExpect(content().string(not(containsString("??"))))
                .andExpect(content().string(not(containsString("class=\"warning\""))));
    }

    @Test
    void warns_on_top_of_what_is_to_be_settled() throws Exception {
        AskedCaution perforation = new AskedCaution(Caution.PERFORATION, null, null);
        p1("09:00", 20, new Wish("K1", Method.IRRIGATION, Ears.RIGHT, 5, true, List.of(perforation)));
        p1("09:20", 20, new Wish("K2", Method.MICROSUCTION, Ears.RIGHT, null, true, List.of()));
        p1("09:40", 20, new Wish("K3", Method.MICROSUCTION, Ears.RIGHT, 5, false, List.of()));
        p1("16:55", 90, Wish.of("K4", Method.MANUAL_REMOVAL, Ears.BOTH));
        p1("18:30", 20, Wish.of("K5", Method.MANUAL_REMOVAL, Ears.LEFT));
        mvc.perform(get("/day/2026-03-04/sheet").with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("09:00 FamilyK1, Given: irrigation is contraindicated")))
                .andExpect(content().string(containsString("09:20 FamilyK2, Given: softener not confirmed")))
                .andExpect(
                        content().string(containsString("09:40 FamilyK3, Given: cautions were not asked. Go through")))
                .andExpect(content().string(containsString("18:30 FamilyK5, Given: booked outside any session")))
                .andExpect(content().string(containsString("The session until 17:00 may finish late")))
                .andExpect(content().string(not(containsString("FamilyK4, Given: softener"))));
    }

    @Test
    void names_what_could_not_be_said_and_where_to_call() throws Exception {
        p1("09:00", 20, busy("K1"));
        mvc.perform(get("/day/2026-03-04/sheet").with(SignedIn.receptionist(clinic.id())))
                .andExpect(content().string(containsString("Call the patient: 01632 960123")))
                .andExpect(content().string(containsString("softener: not confirmed, call 01632 960123")))
                .andExpect(content().string(containsString("could not say, so look or ask first:")))
                .andExpect(content().string(containsString("born 1 Jan 1950 (76)")))
                .andExpect(content().string(containsString("Red flags were not all asked")))
                .andExpect(content().string(containsString("09:00 FamilyK1, Given</a>")));
    }

    @Test
    void counts_the_slot_from_the_projected_start_when_the_list_is_late() throws Exception {
        p1("09:00", 20, Wish.of("K1", Method.MICROSUCTION, Ears.RIGHT));
        p1("12:00", 20, Wish.of("K2", Method.MICROSUCTION, Ears.RIGHT));
        clock.set(Instant.parse("2026-03-04T09:15:00Z"));
        List<SheetLine> lines = sheets.of(clinic.id(), DAY).sheets().get(0).lines();
        LocalTime starts = lines.get(0).starts();
        assertThat(starts).isAfterOrEqualTo(LocalTime.of(9, 15));
        assertThat(lines.get(0).runsOnAt()).isEqualTo(starts.plusMinutes(20));
        assertThat(lines.get(1).runsOnAt()).isEqualTo(LocalTime.of(12, 20));
    }

    @Test
    void is_empty_where_nobody_is_booked_and_for_another_clinic() throws Exception {
        p1("09:00", 30, Wish.of("K1", Method.MANUAL_REMOVAL, Ears.BOTH));
        mvc.perform(get("/day/2026-03-05/sheet").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Nobody is booked on this day")));
        mvc.perform(get("/day/2026-03-04/sheet")
                        .with(SignedIn.lead(clinics.open().id())))
                .andExpect(status().isOk())
                .andExpect(content().string(not(containsString("FamilyK1"))));
        mvc.perform(get("/day/2026-03-04/sheet"))
                .andExpect(status().is3xxRedirection())
                .andExpect(redirectedUrl("/sign-in"));
    }

    @Test
    void gives_programs_the_day_with_its_projection() throws Exception {
        p1("09:00", 30, Wish.of("K1", Method.MANUAL_REMOVAL, Ears.BOTH));
        p1("09:30", 20, Wish.of("K2", Method.MICROSUCTION, Ears.RIGHT));
        mvc.perform(get("/api/v1/days/2026-03-04").with(SignedIn.program(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.date").value("2026-03-04"))
                .andExpect(jsonPath("$.practitioners[0].practitioner").value("P1"))
                .andExpect(
                        jsonPath("$.practitioners[0].sessions[0].overtimeRisk").isNumber())
                .andExpect(jsonPath("$.practitioners[0].list[0].patientRef").value("K1"))
                .andExpect(jsonPath("$.practitioners[0].list[0].bookedStart").value("2026-03-04T09:00:00"))
                .andExpect(jsonPath("$.practitioners[0].list[1].projectedStart['0.9']")
                        .isString())
                .andExpect(jsonPath("$.practitioners[0].list[1].waitMinutes").isNumber())
                .andExpect(jsonPath("$.practitioners[0].list[1].overrunRisk").isNumber())
                .andExpect(content().string(not(containsString("FamilyK1"))));
        mvc.perform(get("/api/v1/days/2026-03-04").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isForbidden());
        mvc.perform(get("/api/v1/days/2026-03-04")).andExpect(status().isUnauthorized());
    }

    @Test
    void prints_a_short_list_on_one_page_and_a_long_one_on_as_many_as_it_takes() throws Exception {
        Browser browser = browser();
        for (int i = 0; i < 4; i++) {
            p1("%02d:00".formatted(9 + i), 20, busy("K" + i));
        }
        Path sheet = printed("short");
        assertThat(pages(Files.readString(browser.print(sheet), StandardCharsets.ISO_8859_1)))
                .as("pages of "
                        + Jsoup.parse(Files.readString(sheet)).select("main").text())
                .isEqualTo(1);
        for (int i = 0; i < 20; i++) {
            p2("%02d:%02d".formatted(9 + i / 3, i % 3 * 20), busy("L" + i));
        }
        String pdf = Files.readString(browser.print(printed("long")), StandardCharsets.ISO_8859_1);
        assertThat(pages(pdf)).isGreaterThan(2);
        // A4 in points is 595.28 x 841.89.
        assertThat(Pattern.compile("/MediaBox\\s*\\[0 0 59[45](\\.\\d+)? 84[12](\\.\\d+)?\\]")
                        .matcher(pdf)
                        .results()
                        .count())
                .isEqualTo(pages(pdf));
    }

    /** 9 pt are 12 px. */
    @Test
    void prints_nothing_smaller_than_9_points() throws Exception {
        Browser browser = browser();
        for (int i = 0; i < 20; i++) {
            p1("%02d:%02d".formatted(9 + i / 3, i % 3 * 20), 20, busy("K" + i));
        }
        Path page = printed("sizes");
        Path look = page.resolveSibling("print.css");
        Files.writeString(look, Files.readString(look).replace("@media print", "@media all"));
        Files.writeString(page, Files.readString(page).replace("</body>", SMALLEST + "</body>"));
        String measured = browser.content(page);
        Matcher smallest = Pattern.compile("data-smallest=\"([\\d.]+)\"").matcher(measured);
        assertThat(smallest.find()).isTrue();
        assertThat(Double.parseDouble(smallest.group(1)))
                .isGreaterThanOrEqualTo(12)
                .isLessThan(14);
    }

    /** Writes the smallest size of visible text on the sheets into the page itself. */
    private static final String SMALLEST = """
            <script>
              const sizes = [...document.querySelectorAll('.sheet *')]
                .filter(one => one.offsetParent && [...one.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
                .map(one => parseFloat(getComputedStyle(one).fontSize));
              document.body.dataset.smallest = Math.min(...sizes);
            </script>
            """;

    private static Browser browser() {
        Optional<Browser> browser = Browser.find();
        Assumptions.assumeTrue(
                browser.isPresent(), "no browser found; install Debian's chromium to have the page printed");
        return browser.get();
    }

    /** The sheets as they are now with their look, as files in a folder of that name. */
    private Path printed(String name) throws Exception {
        String html = mvc.perform(get("/day/2026-03-04/sheet").with(SignedIn.lead(clinic.id())))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString();
        Path folder =
                Files.createDirectories(Path.of("target", "day-sheet", name).toAbsolutePath());
        for (String style : List.of("tokens", "base", "parts", "pages", "print")) {
            byte[] look = getClass()
                    .getResourceAsStream("/static/styles/" + style + ".css")
                    .readAllBytes();
            Files.write(folder.resolve(style + ".css"), look);
        }
        Path page = folder.resolve("sheet.html");
        Files.writeString(page, html.replaceAll("href=\"/styles/(\\w+)[^\"]*\\.css\"", "href=\"$1.css\""));
        return page;
    }

    private static long pages(String pdf) {
        return Pattern.compile("/Type\\s*/Page\\b").matcher(pdf).results().count();
    }

    /** A visit that brings warnings, a caution, one that is not known, and findings. */
    private static Wish busy(String number) {
        AskedCaution tinnitus = new AskedCaution(Caution.TINNITUS, null, null);
        return new Wish(
                number,
                Method.MICROSUCTION,
                Ears.BOTH,
                null,
                true,
                List.of(tinnitus),
                Set.of(Caution.DIABETES),
                false,
                "01632 960123");
    }

    private void p2(String start, Wish wish) {
        bookings.book(clinic, clinic.p2(), clinic.r2(), DAY, start, 20, wish);
    }

    @Test
    void refuses_what_is_no_date() throws Exception {
        for (String date : new String[] {"2026-02-30", "tomorrow", "1890-01-01", "2026-3-4"}) {
            mvc.perform(get("/day/" + date + "/sheet").with(SignedIn.lead(clinic.id())))
                    .andExpect(status().isBadRequest())
                    .andExpect(content().string(containsString("2000-01-01 to 2099-12-31")));
            mvc.perform(get("/api/v1/days/" + date).with(SignedIn.program(clinic.id())))
                    .andExpect(status().isBadRequest())
                    .andExpect(jsonPath("$.problems[0].field").value("date"));
        }
    }

    private void p1(String start, int slot, Wish wish) {
        bookings.book(clinic, clinic.p1(), clinic.r1(), DAY, start, slot, wish);
    }
}
