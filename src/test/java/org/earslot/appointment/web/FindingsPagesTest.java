package org.earslot.appointment.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.hamcrest.Matchers.containsString;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.put;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.DiaryFixture;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.NextStep;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.UnsuitableReason;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.SignedIn;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** What is recorded of a visit by the chair and by programs: only what was done and found. */
@PageTest
class FindingsPagesTest {

    private static final LocalDate DAY = LocalDate.of(2026, 3, 3);
    private static final String LIST = "/day/" + DAY + "/now";

    @Autowired
    private MockMvc mvc;

    @Autowired
    private TestClinics clinics;

    @Autowired
    private DiaryFixture fixture;

    @Autowired
    private Appointments appointments;

    @Autowired
    private Visits visits;

    @Autowired
    private RunningDay running;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;
    private RequestPostProcessor chair;
    private UUID first;

    @BeforeEach
    void one_patient_of_today() {
        clock.set(at("08:30"));
        clinic = clinics.open();
        chair = SignedIn.practitioner(clinic.id(), clinic.p1());
        first = fixture.appointment(
                clinic,
                fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH),
                fixture.place(clinic, DAY.atTime(9, 0), 30));
    }

    /** What was reported is not what was found: one tap invents no findings. */
    @Test
    void as_expected_records_only_what_was_done() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        for (String ear : List.of("right", "left")) {
            mvc.perform(post("/appointments/" + first + "/findings/" + ear + "/as-expected")
                            .param("back", "now")
                            .with(csrf())
                            .with(chair))
                    .andExpect(status().is3xxRedirection());
        }
        happens(first, ClockEvent.FINISHED, "09:24");
        assertThat(visit(first).recorded(Ear.RIGHT))
                .isEqualTo(new EarRecord(
                        List.of(Method.MICROSUCTION), EarFindings.UNKNOWN, Outcome.CLEAR, AdverseEvent.NONE));
        mvc.perform(get(LIST).with(chair))
                .andExpect(content()
                        .string(containsString("Right ear: microsuction; outcome: clear; adverse event: none.")));
    }

    @Test
    void cautions_found_and_the_reason_of_unsuitable_are_recorded() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        mvc.perform(get(LIST).with(chair))
                .andExpect(content().string(containsString("name=\"right.found.perforation\"")))
                .andExpect(content().string(containsString("name=\"right.unsuitable\"")));
        mvc.perform(post("/appointments/" + first + "/findings")
                        .with(fixture.justOpened())
                        .param("right.outcome", "unsuitable_on_day")
                        .with(csrf())
                        .with(chair))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("right.unsuitable-problem")));
        mvc.perform(post("/appointments/" + first + "/findings")
                        .with(fixture.justOpened())
                        .param("back", "now")
                        .param("right.outcome", "unsuitable_on_day")
                        .param("right.found.perforation", "yes")
                        .param("left.outcome", "unsuitable_on_day")
                        .param("left.unsuitable", "pain")
                        .param("left.adverse.tinnitus", "yes")
                        .param("nextStep", "refer_on")
                        .with(csrf())
                        .with(chair))
                .andExpect(status().is3xxRedirection());
        happens(first, ClockEvent.FINISHED, "09:24");
        assertThat(visit(first).recorded(Ear.RIGHT).cautionsFound()).containsExactly(Caution.PERFORATION);
        assertThat(visit(first).recorded(Ear.LEFT).unsuitable()).isEqualTo(UnsuitableReason.PAIN);
        mvc.perform(get(LIST).with(chair))
                .andExpect(content()
                        .string(containsString(
                                "Right ear: cautions found: perforation; outcome: unsuitable on the day.")))
                .andExpect(
                        content()
                                .string(
                                        containsString(
                                                "Left ear: outcome: unsuitable on the day; reason: pain; adverse event: new or worse tinnitus.")))
                .andExpect(content().string(containsString("What next: refer on.")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "clear", "not_removed"})
    void a_reason_of_unsuitable_without_that_outcome_is_refused(String outcome) throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        mvc.perform(post("/appointments/" + first + "/findings")
                        .with(fixture.justOpened())
                        .param("right.outcome", outcome)
                        .param("right.unsuitable", "pain")
                        .with(csrf())
                        .with(chair))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("id=\"right.unsuitable-problem\"")));
        send("{\"right\":{\"outcome\":\"" + outcome + "\",\"unsuitable\":\"pain\"}}", 400);
        assertThat(visit(first).recorded(Ear.RIGHT)).isEqualTo(EarRecord.EMPTY);
    }

    /** The reason belongs to the outcome before. */
    @Test
    void as_expected_removes_the_reason_of_unsuitable() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        send("{\"left\":{\"outcome\":\"unsuitable_on_day\",\"unsuitable\":\"unwell\"}}", 200);
        mvc.perform(post("/appointments/" + first + "/findings/left/as-expected")
                        .with(csrf())
                        .with(chair))
                .andExpect(status().is3xxRedirection());
        assertThat(visit(first).recorded(Ear.LEFT).outcome()).isEqualTo(Outcome.CLEAR);
        assertThat(visit(first).recorded(Ear.LEFT).unsuitable()).isNull();
    }

    /** The second to save sees each difference, and what the first recorded is not erased by a field left blank. */
    @Test
    void two_who_record_at_once_overwrite_nothing() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        String opened = version();
        send("""
                {"right":{"outcome":"residual","cautionsFound":["perforation"],"methods":["microsuction"]},
                 "left":{"outcome":"clear"},"note":"seen by the other"}""", 200);
        MockHttpServletRequestBuilder late = post("/appointments/" + first + "/findings")
                .param("back", "now")
                .param("right.outcome", "clear")
                .param("right.wax", "hard")
                .with(csrf())
                .with(chair);
        String answer = mvc.perform(late.param("version", opened))
                .andExpect(status().isConflict())
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(visit(first).outcome(Ear.RIGHT)).contains(Outcome.RESIDUAL);
        Document shown = Jsoup.parse(answer);
        assertThat(shown.select("#diary-appointment > *").first().attr("role"))
                .as("at the top")
                .isEqualTo("alert");
        assertThat(shown.select("a[href=#findings]")).isNotEmpty();
        assertThat(shown.select("[role=alert]").text())
                .contains("right ear, Outcome: now saved as \"residual wax\".")
                .contains("right ear, perforation: now saved as \"yes\". The form shows it now.")
                .contains("left ear, Outcome: now saved as \"clear\". The form shows it now.");
        assertThat(shown.select("input[name=right.outcome][checked]").val()).isEqualTo("clear");
        assertThat(shown.select("input[name=left.outcome][checked]").val()).isEqualTo("clear");
        assertThat(shown.select("[name=right.found.perforation]").hasAttr("checked"))
                .isTrue();
        assertThat(shown.select("[name=note]").text()).isEqualTo("seen by the other");
        assertThat(shown.select("form[action$=/findings] [name=version]").val()).isEqualTo(version());
    }

    /** A press of the clock is no change of what the form shows. */
    @Test
    void findings_typed_before_the_end_are_saved_after_it() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        String opened = version();
        happens(first, ClockEvent.FINISHED, "09:24");
        mvc.perform(post("/appointments/" + first + "/findings")
                        .param("version", opened)
                        .param("right.outcome", "clear")
                        .with(csrf())
                        .with(chair))
                .andExpect(status().is3xxRedirection());
    }

    /** The version that the form of the running list carries. */
    private String version() throws Exception {
        return Jsoup.parse(mvc.perform(get(LIST).with(chair))
                        .andReturn()
                        .getResponse()
                        .getContentAsString())
                .select("form[action$=/findings] [name=version]")
                .val();
    }

    private Visit visit(UUID appointment) {
        UUID id = appointments
                .findByClinicIdAndId(clinic.id(), appointment)
                .flatMap(Appointment::visitId)
                .orElseThrow();
        return visits.findByClinicIdAndId(clinic.id(), id).orElseThrow();
    }

    @Test
    void programs_send_cautions_found_the_reason_and_the_next_step() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        send("""
                {"right":{"outcome":"unsuitable_on_day","cautionsFound":["foreign_body"],"adverseEvent":"none"},
                 "left":{"outcome":"unsuitable_on_day","unsuitable":"unwell"},"nextStep":"refer_on"}""", 200);
        assertThat(visit(first).recorded(Ear.RIGHT).cautionsFound()).containsExactly(Caution.FOREIGN_BODY);
        assertThat(visit(first).recorded(Ear.LEFT).unsuitable()).isEqualTo(UnsuitableReason.UNWELL);
        assertThat(visit(first).nextStep()).contains(NextStep.REFER_ON);
        mvc.perform(put("/api/v1/appointments/" + first + "/findings")
                        .contentType("application/json")
                        .content("{\"left\":{\"outcome\":\"unsuitable_on_day\"}}")
                        .with(SignedIn.program(clinic.id())))
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("left.unsuitable"));
        send("{\"left\":{\"cautionsFound\":[\"moon_dust\"]}}", 400);
        send("{\"nextStep\":\"wait\"}", 400);
    }

    @ParameterizedTest
    @ValueSource(strings = {"suspected_perforation", "faint", "tinnitus", "hearing_worse", "infection"})
    void adverse_events_can_be_recorded_later_too(String event) throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        happens(first, ClockEvent.FINISHED, "09:24");
        clock.set(at("09:24").plusSeconds(86_400 * 5));
        send("{\"left\":{\"outcome\":\"clear\",\"adverseEvent\":\"" + event + "\"}}", 200);
        assertThat(visit(first).recorded(Ear.LEFT).harmed()).isTrue();
        mvc.perform(get("/appointments/" + first).with(chair)).andExpect(status().isOk());
    }

    /** A bleed and dizziness at once; "none" beside either is no answer. */
    @Test
    void several_adverse_events_of_one_ear_are_recorded_at_once() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        MockHttpServletRequestBuilder both = post("/appointments/" + first + "/findings")
                .param("right.outcome", "clear")
                .param("left.outcome", "residual")
                .param("left.adverse.dizziness", "yes")
                .param("left.adverse.bleed", "yes")
                .with(csrf())
                .with(chair);
        mvc.perform(both.with(fixture.justOpened())).andExpect(status().is3xxRedirection());
        assertThat(visit(first).recorded(Ear.LEFT).adverseEvents())
                .containsExactly(AdverseEvent.BLEED, AdverseEvent.DIZZINESS);
        Document shown = page("/appointments/" + first);
        assertThat(shown.select("#findings input[name^=left.adverse.][checked]").eachAttr("name"))
                .containsExactlyInAnyOrder("left.adverse.bleed", "left.adverse.dizziness");
        happens(first, ClockEvent.FINISHED, "09:24");
        assertThat(page(LIST).text()).contains("adverse event: bleeding, dizziness.");
        mvc.perform(both.param("left.adverse.none", "yes").with(fixture.justOpened()))
                .andExpect(status().isBadRequest())
                .andExpect(content().string(containsString("none alone, or what went wrong")));
        send("{\"left\":{\"adverseEvent\":\"none\",\"adverseEvents\":[\"pain\"]}}", 400);
        send("{\"left\":{\"adverseEvents\":[\"moon_dust\"]}}", 400);
        send("{\"left\":{\"adverseEvent\":\"pain\",\"adverseEvents\":[\"pain\",\"hearing_worse\"]}}", 200);
        assertThat(visit(first).recorded(Ear.LEFT).mostSerious()).contains(AdverseEvent.HEARING_WORSE);
        assertThat(visit(first).recorded(Ear.LEFT).adverseEvents())
                .containsExactly(AdverseEvent.HEARING_WORSE, AdverseEvent.PAIN);
    }

    /** What is set back to blank is removed; a form or a program without the field leaves it. */
    @Test
    void stopped_early_and_what_next_can_be_removed_again() throws Exception {
        happens(first, ClockEvent.ARRIVED, "08:55");
        happens(first, ClockEvent.CALLED_IN, "09:00");
        send("{\"stoppedEarly\":\"comfort\",\"nextStep\":\"come_again\"}", 200);
        send("{\"stoppedEarly\":\"\",\"left\":{\"outcome\":\"clear\"}}", 200);
        assertThat(visit(first).stoppedEarly()).contains(StoppedEarly.COMFORT);
        mvc.perform(post("/appointments/" + first + "/findings")
                        .param("stoppedEarly", "")
                        .with(fixture.justOpened())
                        .with(csrf())
                        .with(chair))
                .andExpect(status().is3xxRedirection());
        assertThat(visit(first).stoppedEarly()).isEmpty();
        assertThat(visit(first).nextStep()).contains(NextStep.COME_AGAIN);
        mvc.perform(post("/appointments/" + first + "/findings")
                        .param("nextStep", "")
                        .with(fixture.justOpened())
                        .with(csrf())
                        .with(chair))
                .andExpect(status().is3xxRedirection());
        assertThat(visit(first).nextStep()).isEmpty();
        assertThat(page(LIST).select("input[name=nextStep][value='']").hasAttr("checked"))
                .isTrue();
    }

    private Document page(String address) throws Exception {
        return Jsoup.parse(mvc.perform(get(address).with(chair))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString());
    }

    private void send(String body, int expected) throws Exception {
        mvc.perform(put("/api/v1/appointments/" + first + "/findings")
                        .contentType("application/json")
                        .content(body)
                        .with(SignedIn.program(clinic.id())))
                .andExpect(status().is(expected));
    }

    private void happens(UUID appointment, ClockEvent event, String time) {
        clock.set(at(time));
        running.record(clinic.id(), appointment, event);
    }

    private static Instant at(String time) {
        return Instant.parse("2026-03-03T" + time + ":00Z");
    }
}
