package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.flash;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.Booking;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.setup.SessionSetUp;
import org.earslot.daysheet.BookedDay.Wish;
import org.earslot.ear.Answer;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.referral.Intake;
import org.earslot.referral.Intake.Taker;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagAnswers;
import org.earslot.referral.Referrals;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Element;
import org.jsoup.select.Elements;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** From a warning of the day sheet to the change made and taken back, as a person presses. */
@PageTest
class FixPagesTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 4);
    private static final Pattern HIDDEN =
            Pattern.compile("<input\\s+type=\"hidden\"\\s+name=\"(\\w+)\"\\s+value=\"([^\"]*)\"", Pattern.DOTALL);

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private BookedDay bookings;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Referrals referrals;

    @Autowired
    private Intake intake;

    @Autowired
    private Booking booking;

    @Autowired
    private Sessions sessions;

    @Autowired
    private SessionSetUp sessionSetUp;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private final List<UUID> crowd = new ArrayList<>();

    @BeforeEach
    void a_crowded_morning() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
        crowd.clear();
        for (int i = 0; i < 8; i++) {
            String start = "%02d:%02d".formatted(9 + i / 4, i % 4 * 15);
            // The first two take long by their slot, nobody having estimated them; the rest run into each other.
            crowd.add(bookings.book(
                    clinic,
                    clinic.p1(),
                    clinic.r1(),
                    DAY,
                    start,
                    15,
                    Wish.of("K" + i, i < 2 ? Method.MANUAL_REMOVAL : Method.MICROSUCTION, Ears.RIGHT)));
        }
        bookings.book(
                clinic, clinic.p1(), clinic.r1(), DAY, "16:15", 45, Wish.of("K9", Method.MANUAL_REMOVAL, Ears.BOTH));
    }

    /** The page names who is left out, and a form shown before the red flag was raised is refused. */
    @Test
    void one_with_an_open_red_flag_is_left_out_and_named() throws Exception {
        String page = read("/day/2026-03-04/fix?fix=retime&session=" + key());
        assertThat(page).doesNotContain("Not moved along");
        UUID flagged = Pattern.compile("name=\"appointment\"\\s+value=\"([^\"]+)\"")
                .matcher(page)
                .results()
                .map(found -> UUID.fromString(found.group(1)))
                .findFirst()
                .orElseThrow();
        String named = "%tR FamilyK%d, Given"
                .formatted(LocalTime.of(9, 0).plusMinutes(15L * crowd.indexOf(flagged)), crowd.indexOf(flagged));
        raise(flagged);
        for (String fix : List.of("retime", "swap", "move")) {
            assertThat(read("/day/2026-03-04/fix?fix=" + fix + "&session=" + key()))
                    .contains("Not moved along", named)
                    .doesNotContain("name=\"appointment\" value=\"" + flagged);
        }
        assertThat(read("/day/2026-03-04/fix?fix=move&appointment=" + flagged))
                .contains("Not moved along", "No other free slot");
        MockHttpServletRequestBuilder stale = post("/day/2026-03-04/fix").param("session", key());
        var hidden = HIDDEN.matcher(page);
        while (hidden.find()) {
            if (!hidden.group(1).equals("session") && !hidden.group(1).equals("_csrf")) {
                stale.param(hidden.group(1), hidden.group(2));
            }
        }
        mvc.perform(stale.with(csrf()).with(receptionist()))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("A red flag of this patient waits")));
    }

    private String read(String address) throws Exception {
        return mvc.perform(get(address).with(receptionist()))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString();
    }

    private void raise(UUID appointmentId) {
        UUID referral = appointments
                .findByClinicIdAndId(clinic.id(), appointmentId)
                .flatMap(Appointment::referralId)
                .orElseThrow();
        assertThat(intake.answerRedFlags(
                        referrals.findByClinicIdAndId(clinic.id(), referral).orElseThrow(),
                        new RedFlagAnswers(Map.of(RedFlag.SUDDEN_LOSS_RECENT, Answer.YES), null),
                        new Taker("r", null)))
                .isPresent();
    }

    @Test
    void a_late_end_offers_three_fixes_each_one_press_away() throws Exception {
        late();
        mvc.perform(get("/day/2026-03-04/sheet").with(receptionist()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("may finish late")))
                .andExpect(content().string(containsString("fix=retime&amp;session=" + key().replace("@", "@"))))
                .andExpect(content().string(containsString("fix=swap")))
                .andExpect(content().string(containsString("fix=move")));
        for (RequestPostProcessor asker :
                List.of(receptionist(), SignedIn.practitioner(clinic.id(), clinic.p1()), SignedIn.lead(clinic.id()))) {
            mvc.perform(get("/day/2026-03-04/fix?fix=move&session=" + key()).with(asker))
                    .andExpect(status().isOk())
                    .andExpect(content().string(containsString("Chance of finishing late, %")))
                    .andExpect(content().string(containsString("Patient to move")))
                    .andExpect(content().string(not(containsString("??"))));
        }
    }

    /** What the sheet says of a fix is what the page of that fix says. */
    @Test
    void each_fix_says_its_effect_and_none_is_offered_without() throws Exception {
        late();
        assertThat(page("/day/2026-03-04/sheet")).contains("/day/2026-03-04/fix/effects?session=" + key());
        Elements fixes = Jsoup.parse(page("/day/2026-03-04/fix/effects?session=" + key()))
                .select("a");
        assertThat(fixes).isNotEmpty();
        for (Element fix : fixes) {
            Matcher late = Pattern.compile("late end (\\d+) to (\\d+) %").matcher(fix.text());
            assertThat(late.find()).as(fix.text()).isTrue();
            assertThat(Integer.parseInt(late.group(2))).isLessThan(Integer.parseInt(late.group(1)));
            assertThat(page(fix.attr("href"))).contains(late.group(1) + " now, then " + late.group(2));
        }
        assertThat(page("/day/2026-03-04/fix/effects?session=nothing")).contains("No single change of this list helps");
    }

    @Test
    void moving_one_shows_its_effect_first_then_is_made_and_taken_back() throws Exception {
        late();
        String page = page("/day/2026-03-04/fix?fix=move&appointment=" + crowd.get(0));
        assertThat(page).contains("now, then").contains("not confirmed: tell the patient");
        assertThat(appointment(0).place().start()).isEqualTo(Instant.parse("2026-03-04T09:00:00Z"));
        mvc.perform(firstForm(page))
                .andExpect(status().is3xxRedirection())
                .andExpect(redirectedUrl("/day/2026-03-04/sheet"));
        Instant moved = appointment(0).place().start();
        assertThat(moved).isNotEqualTo(Instant.parse("2026-03-04T09:00:00Z"));
        String sheet = page("/day/2026-03-04/sheet");
        assertThat(sheet).contains("one visit moved by receptionist");
        Matcher undo = Pattern.compile("action=\"(/day/2026-03-04/fix/[0-9a-f-]+/undo)\"")
                .matcher(sheet);
        assertThat(undo.find()).isTrue();
        mvc.perform(post(undo.group(1)).with(csrf()).with(receptionist()))
                .andExpect(redirectedUrl("/day/2026-03-04/sheet"))
                .andExpect(flash().attribute("notice", containsString("Undone")));
        assertThat(appointment(0).place().start()).isEqualTo(Instant.parse("2026-03-04T09:00:00Z"));
        mvc.perform(post(undo.group(1)).with(csrf()).with(receptionist()))
                .andExpect(flash().attributeExists("refused"));
        assertThat(page("/day/2026-03-04/sheet")).doesNotContain("one visit moved");
    }

    @Test
    void a_confirmed_start_asks_for_the_tick_and_keeps_its_page() throws Exception {
        booking.confirm(clinic.id(), crowd.get(0), appointment(0).version());
        String page = page("/day/2026-03-04/fix?fix=move&appointment=" + crowd.get(0));
        assertThat(page).contains("asked the patient, who agrees");
        mvc.perform(firstForm(page))
                .andExpect(status().isConflict())
                .andExpect(content().string(containsString("Ask the patient before you move it")))
                .andExpect(content().string(containsString("Move to this slot")));
        mvc.perform(firstForm(page).param("asked", crowd.get(0).toString())).andExpect(status().is3xxRedirection());
        assertThat(appointment(0).confirmed()).isTrue();
    }

    @Test
    void bad_input_is_refused_with_what_is_allowed() throws Exception {
        for (String query : List.of(
                "", "?fix=pray&session=x", "?fix=retime", "?fix=swap&appointment=" + crowd.get(0), "?fix=move")) {
            mvc.perform(get("/day/2026-03-04/fix" + query).with(receptionist())).andExpect(status().isBadRequest());
        }
        mvc.perform(get("/day/2026-03-04/fix?fix=move&appointment=" + UUID.randomUUID())
                        .with(receptionist()))
                .andExpect(status().isNotFound());
        mvc.perform(get("/day/2026-03-04/fix?fix=move&appointment=" + crowd.get(0))
                        .with(SignedIn.lead(clinics.open().id())))
                .andExpect(status().isNotFound());
        mvc.perform(get("/day/2026-03-04/fix?fix=retime&session=nothing").with(receptionist()))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("No better starts were found")));
        mvc.perform(post("/day/2026-03-04/fix")
                        .param("fix", "move")
                        .with(csrf())
                        .with(receptionist()))
                .andExpect(status().isBadRequest());
        mvc.perform(post("/day/2026-03-04/fix")
                        .param("fix", "move")
                        .param("appointment", crowd.get(0).toString())
                        .param("version", "many")
                        .param("practitioner", clinic.p1().toString())
                        .param("room", clinic.r1().toString())
                        .param("start", "soon")
                        .param("slotMinutes", "-4")
                        .with(csrf())
                        .with(receptionist()))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("version")))
                .andExpect(content().string(containsString("slotMinutes")));
        mvc.perform(get("/day/2026-03-04/fix?fix=move&appointment=" + crowd.get(0)))
                .andExpect(redirectedUrl("/sign-in"));
    }

    @Test
    void softener_is_recorded_from_the_sheet() throws Exception {
        UUID id = bookings.book(
                clinic,
                clinic.p2(),
                clinic.r2(),
                DAY,
                "09:00",
                20,
                new Wish("S1", Method.MICROSUCTION, Ears.RIGHT, null, true, List.of()));
        assertThat(page("/day/2026-03-04/sheet")).contains("FamilyS1, Given: softener not confirmed");
        mvc.perform(post("/day/2026-03-04/sheet/softener")
                        .param("appointment", id.toString())
                        .param("days", "lots")
                        .with(csrf())
                        .with(receptionist()))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("value=\"lots\"")))
                .andExpect(content().string(containsString("a whole number from 0 to 365")));
        mvc.perform(post("/day/2026-03-04/sheet/softener")
                        .param("appointment", id.toString())
                        .param("days", "6")
                        .with(csrf())
                        .with(receptionist()))
                .andExpect(redirectedUrl("/day/2026-03-04/sheet"));
        assertThat(page("/day/2026-03-04/sheet"))
                .doesNotContain("softener not confirmed")
                .contains("softener: 6 days");
        mvc.perform(post("/day/2026-03-04/sheet/softener")
                        .param("appointment", id.toString())
                        .param("days", "6")
                        .with(csrf())
                        .with(SignedIn.lead(clinics.open().id())))
                .andExpect(status().isNotFound());
    }

    @Test
    void who_does_not_hold_the_method_is_warned_of() throws Exception {
        UUID id = bookings.book(
                clinic, clinic.p2(), clinic.r2(), DAY, "09:00", 20, Wish.of("C1", Method.MANUAL_REMOVAL, Ears.RIGHT));
        assertThat(page("/day/2026-03-04/sheet"))
                .contains("FamilyC1, Given: P2 is not trained in manual removal")
                .contains("fix=move&amp;appointment=" + id);
        String fix = page("/day/2026-03-04/fix?fix=move&appointment=" + id);
        assertThat(fix).contains("with P1").doesNotContain("with P2");
    }

    @Test
    void what_the_cover_does_not_hold_or_has_not_been_given_is_warned_of() throws Exception {
        sessionSetUp.close(clinic.id(), DAY, clinic.p1(), "away");
        sessionSetUp.addExtra(
                clinic.id(),
                DAY,
                clinic.p2(),
                clinic.r1(),
                new TimeSpan(LocalTime.of(9, 0), LocalTime.of(13, 0)),
                "cover");
        assertThat(page("/day/2026-03-04/sheet"))
                .contains("09:00 FamilyK0, Given: P2 is not trained in manual removal")
                .contains("09:30 FamilyK2, Given: P2 covers this session, the visit is still booked with P1")
                .doesNotContain("FamilyK2, Given: P2 is not trained")
                .contains("16:15 FamilyK9, Given: booked outside any session");
    }

    private void late() {
        bookings.book(
                clinic, clinic.p1(), clinic.r1(), DAY, "15:45", 30, Wish.of("L1", Method.MICROSUCTION, Ears.BOTH));
        bookings.book(
                clinic, clinic.p1(), clinic.r1(), DAY, "17:00", 60, Wish.of("L2", Method.MICROSUCTION, Ears.BOTH));
        bookings.book(clinic, clinic.p1(), clinic.r1(), DAY, "16:55", 5, Wish.of("L3", Method.MICROSUCTION, Ears.BOTH));
    }

    private String page(String path) throws Exception {
        return mvc.perform(get(path).with(receptionist()))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString();
    }

    /** The first form of the page that makes a change, with its hidden fields. */
    private MockHttpServletRequestBuilder firstForm(String page) {
        int from = page.indexOf("<form method=\"post\" action=\"/day/2026-03-04/fix\"");
        assertThat(from).isPositive();
        Matcher field = HIDDEN.matcher(page.substring(from, page.indexOf("</form>", from)));
        MockHttpServletRequestBuilder request =
                post("/day/2026-03-04/fix").with(csrf()).with(receptionist());
        while (field.find()) {
            if (!field.group(1).equals("_csrf")) {
                request.param(field.group(1), field.group(2));
            }
        }
        return request;
    }

    private Appointment appointment(int i) {
        return appointments.findById(crowd.get(i)).orElseThrow();
    }

    private String key() {
        return sessions.on(clinic.id(), DAY).stream()
                .filter(session -> session.practitionerId().equals(clinic.p1()))
                .findFirst()
                .orElseThrow()
                .key();
    }

    private RequestPostProcessor receptionist() {
        return SignedIn.receptionist(clinic.id());
    }
}
