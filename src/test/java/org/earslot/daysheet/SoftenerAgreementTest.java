package org.earslot.daysheet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.aftercare.FollowUps;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.SoftenerAdvice.Use;
import org.earslot.day.ClockEvent;
import org.earslot.day.Findings;
import org.earslot.day.RunningDay;
import org.earslot.daysheet.BookedDay.Wish;
import org.earslot.daysheet.DaySheet.SheetLine;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.EarRecord;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** Letter, day sheet, booking page and follow-up say the same of softener, whatever the caution. */
@PageTest
class SoftenerAgreementTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);

    private static final Set<String> FORBIDDEN = Set.of("perforation", "grommet", "softener_allergy");

    private static final Set<String> ASK_CLINICIAN = Set.of(
            "healed_perforation",
            "ear_surgery",
            "mastoid_cavity",
            "middle_ear_infection",
            "mucus_discharge",
            "otitis_externa",
            "foreign_body",
            "injury_lately",
            "pain_or_discharge_now",
            "ear_implant",
            "stapes_surgery",
            "recent_ear_surgery");

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private BookedDay bookings;

    @Autowired
    private DaySheets sheets;

    @Autowired
    private Appointments appointments;

    @Autowired
    private RunningDay running;

    @Autowired
    private FollowUps followUps;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void a_clinic() {
        clock.set(Instant.parse("2026-03-03T08:00:00Z"));
        clinic = clinics.open();
    }

    /** One visit of the right ear by microsuction. */
    private record Scene(String number, Wish wish, Use expected) {}

    /** Every caution, in the ear that is treated, in the other, in the whole patient, and not known. */
    private static List<Scene> scenes() {
        List<Scene> scenes = new ArrayList<>();
        for (Caution caution : Caution.values()) {
            String number = "S" + caution.ordinal();
            Use use = FORBIDDEN.contains(caution.code())
                    ? Use.FORBIDDEN
                    : ASK_CLINICIAN.contains(caution.code()) ? Use.ASK_CLINICIAN : Use.ALLOWED;
            scenes.add(scene(number + "R", use, Set.of(), new AskedCaution(caution, Ear.RIGHT, null)));
            scenes.add(scene(number + "L", Use.ALLOWED, Set.of(), new AskedCaution(caution, Ear.LEFT, null)));
            scenes.add(scene(number + "W", use, Set.of(), new AskedCaution(caution, null, null)));
            scenes.add(scene(number + "N", use, Set.of(caution)));
        }
        return scenes;
    }

    private static Scene scene(String number, Use expected, Set<Caution> notKnown, AskedCaution... cautions) {
        Wish wish = new Wish(number, Method.MICROSUCTION, Ears.RIGHT, 3, true, List.of(cautions), notKnown, true, null);
        return new Scene(number, wish, expected);
    }

    @Test
    void letter_sheet_and_booking_page_agree_on_every_caution() throws Exception {
        List<Scene> scenes = scenes();
        Map<String, UUID> booked = scenes.stream().collect(Collectors.toMap(Scene::number, this::book));
        Map<String, SheetLine> lines = sheets.of(clinic.id(), DAY).sheets().get(0).lines().stream()
                .collect(Collectors.toMap(line -> line.who().localNumber(), Function.identity()));
        for (Scene scene : scenes) {
            Briefing brief = lines.get(scene.number()).brief();
            assertThat(brief.softener().use()).as(scene.number()).isEqualTo(scene.expected());
            assertThat(brief.needsSoftener()).as(scene.number()).isEqualTo(scene.expected() == Use.ALLOWED);
            Appointment appointment =
                    appointments.findById(booked.get(scene.number())).orElseThrow();
            String letter = page("/appointments/" + appointment.id() + "/letters/confirmation");
            assertThat(said(letter, "Put no drops or oil into your right ear", "Ask us before you put drops"))
                    .as(scene.number())
                    .isEqualTo(scene.expected());
            String booking = page("/slots?referral=" + appointment.referralId().orElseThrow());
            assertThat(said(booking, "<strong>No softener", "<strong>Softener only after asking"))
                    .as(scene.number())
                    .isEqualTo(scene.expected());
            assertThat(booking.contains("Softener was used already (3 days)"))
                    .as(scene.number())
                    .isEqualTo(scene.expected() != Use.ALLOWED);
        }
        String sheet = page("/day/" + DAY + "/sheet");
        assertThat(sheet).doesNotContain("stop, softener");
    }

    @Test
    void follow_up_begins_with_softener_only_where_it_may_be_used() {
        for (Caution caution :
                List.of(Caution.PERFORATION, Caution.SOFTENER_ALLERGY, Caution.MASTOID_CAVITY, Caution.DIABETES)) {
            Use expected = caution == Caution.DIABETES
                    ? Use.ALLOWED
                    : caution == Caution.MASTOID_CAVITY ? Use.ASK_CLINICIAN : Use.FORBIDDEN;
            UUID id = book(scene("F" + caution.ordinal(), expected, Set.of(caution)));
            running.record(clinic.id(), id, ClockEvent.ARRIVED);
            running.record(clinic.id(), id, ClockEvent.CALLED_IN);
            EarRecord residual =
                    new EarRecord(List.of(Method.MICROSUCTION), EarFindings.UNKNOWN, Outcome.RESIDUAL, null);
            running.recordFindings(clinic.id(), id, Findings.of(Map.of(Ear.RIGHT, residual)), "p1");
            running.record(clinic.id(), id, ClockEvent.FINISHED);
            FollowUps.Next next =
                    followUps.next(appointments.findById(id).orElseThrow()).orElseThrow();
            assertThat(next.softener().use()).as(caution.code()).isEqualTo(expected);
            assertThat(next.softenerDays() != null).as(caution.code()).isEqualTo(expected == Use.ALLOWED);
        }
    }

    private static Use said(String page, String forbidden, String ask) {
        List<Use> said = Arrays.stream(Use.values())
                .filter(use -> use == Use.FORBIDDEN && page.contains(forbidden)
                        || use == Use.ASK_CLINICIAN && page.contains(ask))
                .toList();
        return said.isEmpty() ? Use.ALLOWED : said.get(0);
    }

    private UUID book(Scene scene) {
        return bookings.book(clinic, clinic.p1(), clinic.r1(), DAY, "09:00", 20, scene.wish());
    }

    private String page(String path) throws Exception {
        return mvc.perform(get(path).with(SignedIn.receptionist(clinic.id())))
                .andReturn()
                .getResponse()
                .getContentAsString();
    }
}
