package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.not;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.caution.AskedCaution;
import org.earslot.daysheet.BookedDay.Wish;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.VisitCheck;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.MessageSource;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.web.util.HtmlUtils;

@PageTest
class RunningListPagesTest {

    private static final String TODAY = "/day/2026-03-03/now";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private BookedDay bookings;

    @Autowired
    private Appointments appointments;

    @Autowired
    private MessageSource messages;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private UUID first;
    private UUID second;

    @BeforeEach
    void a_list_of_two() {
        clock.set(Instant.parse("2026-03-03T09:12:00Z"));
        clinic = clinics.open();
        first = book("09:00", Wish.of("K1", Method.MICROSUCTION, Ears.BOTH));
        second = book("09:30", Wish.of("K2", Method.MANUAL_REMOVAL, Ears.RIGHT));
    }

    @Test
    void offers_the_next_patient_to_be_called_in() throws Exception {
        mvc.perform(get(TODAY).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("FamilyK1, Given")))
                .andExpect(content().string(containsString("not checked in")))
                .andExpect(content().string(containsString("/appointments/" + first + "/call-in")))
                .andExpect(content().string(not(containsString("FamilyK2"))))
                .andExpect(content().string(containsString("G.F.")))
                .andExpect(content().string(not(containsString("??"))));
    }

    @Test
    void shows_who_is_in_the_room_for_how_long_and_the_others_as_initials() throws Exception {
        Appointment called = appointments.findById(first).orElseThrow();
        called.arrive(Instant.parse("2026-03-03T08:55:00Z"), AppointmentStatus.CHECKED_IN);
        called.callIn(Instant.parse("2026-03-03T09:02:00Z"));
        appointments.save(called);
        mvc.perform(get(TODAY).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("since 09:02: 10 min")))
                .andExpect(content().string(containsString("/appointments/" + first + "/finish")))
                .andExpect(content().string(containsString("right ear: as expected")))
                .andExpect(content().string(containsString("left ear: as expected")))
                .andExpect(content().string(not(containsString("FamilyK2"))));
    }

    /** Two screens without a connection may each have called one in. */
    @Test
    void lists_everybody_who_is_in_the_room_until_each_is_finished() throws Exception {
        for (UUID called : List.of(first, second)) {
            mvc.perform(post("/appointments/" + called + "/call-in")
                            .with(csrf())
                            .with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                    .andExpect(status().is3xxRedirection());
        }
        mvc.perform(get(TODAY).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(content().string(containsString("FamilyK1")))
                .andExpect(content().string(containsString("FamilyK2")))
                .andExpect(content().string(containsString("/appointments/" + first + "/finish")))
                .andExpect(content().string(containsString("/appointments/" + second + "/finish")));
    }

    /** The patient in the room answered every caution with yes, the next could answer none. */
    @Test
    void shows_every_caution_of_who_is_in_the_room_and_of_who_is_next() throws Exception {
        List<AskedCaution> yes = Arrays.stream(Caution.values())
                .map(caution -> new AskedCaution(caution, Ear.RIGHT, null))
                .toList();
        clinic = clinics.open();
        first = book("09:00", new Wish("K7", Method.MICROSUCTION, Ears.RIGHT, 3, true, yes));
        book(
                "09:30",
                new Wish(
                        "K8",
                        Method.MICROSUCTION,
                        Ears.RIGHT,
                        3,
                        true,
                        List.of(),
                        Set.of(Caution.values()),
                        false,
                        null));
        press("call-in", 302);
        String page = HtmlUtils.htmlUnescape(list());
        for (Caution caution : Caution.values()) {
            String word = messages.getMessage("Caution." + caution.code(), null, Locale.ENGLISH);
            assertThat(page).contains(word + " (right ear)").contains("not known: " + word);
        }
        assertThat(page)
                .contains("red flags not asked", "No softener, right ear")
                .containsOnlyOnce("born 1 Jan 1950 (76)")
                .doesNotContain("FamilyK8");
    }

    @Test
    void stores_what_is_ticked_in_the_room_and_says_what_is_not() throws Exception {
        press("checks/identity", 409);
        press("call-in", 302);
        for (VisitCheck check : VisitCheck.values()) {
            press("checks/" + check.code(), 302);
        }
        press("checks/consent", "no", 302);
        press("checks/weather", 404);
        assertThat(list()).contains("aria-pressed=\"true\">identity confirmed", "aria-pressed=\"false\">consent given");
        press("findings/right/as-expected", 302);
        press("findings/left/as-expected", 302);
        clock.set(Instant.parse("2026-03-03T09:25:00Z"));
        press("finish", 302);
        assertThat(list())
                .contains("Not ticked: consent given")
                .contains("Checked: identity confirmed, otoscopy before, otoscopy after, advice given.");
    }

    private void press(String verb, int expected) throws Exception {
        press(verb, "yes", expected);
    }

    private void press(String verb, String done, int expected) throws Exception {
        mvc.perform(post("/appointments/" + first + "/" + verb)
                        .param("back", "now")
                        .param("done", done)
                        .with(csrf())
                        .with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().is(expected));
    }

    private String list() throws Exception {
        return mvc.perform(get(TODAY).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString()
                .replaceAll("\\s+", " ");
    }

    @Test
    void comes_back_to_the_list_after_a_press() throws Exception {
        String list = TODAY + "?practitioner=" + clinic.p1();
        for (String press : new String[] {"call-in", "findings/right/as-expected"}) {
            mvc.perform(post("/appointments/" + first + "/" + press)
                            .param("back", "now")
                            .with(csrf())
                            .with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                    .andExpect(status().is3xxRedirection())
                    .andExpect(redirectedUrl(list));
        }
        mvc.perform(get(list).with(SignedIn.practitioner(clinic.id(), clinic.p1())))
                .andExpect(content().string(containsString("since 09:12: 0 min")));
    }

    @Test
    void offers_no_press_to_reception_or_on_another_day() throws Exception {
        mvc.perform(get(TODAY).with(SignedIn.receptionist(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(not(containsString("/call-in"))));
        clock.set(Instant.parse("2026-03-04T09:12:00Z"));
        mvc.perform(get(TODAY).with(SignedIn.lead(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("nothing can be called in here")))
                .andExpect(content().string(not(containsString("/call-in"))));
    }

    @Test
    void keeps_to_the_clinic_and_to_whom_has_a_list() throws Exception {
        TestClinic other = clinics.open();
        mvc.perform(get(TODAY).with(SignedIn.lead(other.id())))
                .andExpect(status().isOk())
                .andExpect(content().string(containsString("Nobody is booked")))
                .andExpect(content().string(not(containsString("FamilyK1"))));
        mvc.perform(get(TODAY).param("practitioner", clinic.p1().toString()).with(SignedIn.lead(other.id())))
                .andExpect(status().isNotFound());
        mvc.perform(get("/day/2026-02-30/now").with(SignedIn.lead(clinic.id()))).andExpect(status().isBadRequest());
        mvc.perform(get(TODAY)).andExpect(status().is3xxRedirection()).andExpect(redirectedUrl("/sign-in"));
    }

    private UUID book(String start, Wish wish) {
        return bookings.book(clinic, clinic.p1(), clinic.r1(), LocalDate.of(2026, 3, 3), start, 20, wish);
    }
}
