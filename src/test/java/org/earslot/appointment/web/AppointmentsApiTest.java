package org.earslot.appointment.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.earslot.booking.DiaryFixture.WEDNESDAY;
import static org.earslot.testing.SignedIn.lead;
import static org.earslot.testing.SignedIn.program;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.hasItem;
import static org.hamcrest.Matchers.hasSize;
import static org.hamcrest.Matchers.not;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.patch;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.put;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.content;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.header;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.jsonPath;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.DiaryFixture;
import org.earslot.caution.AskedCaution;
import org.earslot.caution.CautionAnswers;
import org.earslot.clinic.kit.Kit;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.testing.PageTest;
import org.earslot.testing.SettableClock;
import org.earslot.testing.TestClinics;
import org.earslot.testing.TestClinics.TestClinic;
import org.earslot.visit.Visits;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.ResultActions;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Slots and appointments as other programs use them. */
@PageTest
class AppointmentsApiTest {

    private static final String PATH = "/api/v1/appointments";

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
    private Kit kit;

    @Autowired
    private SettableClock clock;

    private TestClinic clinic;

    @BeforeEach
    void tuesday_nine_o_clock() {
        clock.set(Instant.parse("2026-03-03T09:00:00Z"));
        clinic = clinics.open();
    }

    @Test
    void offer_is_booked_as_it_was_given_and_taken_for_the_next() throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        String answer = mvc.perform(get("/api/v1/slots?referral=" + referral.id()
                                + "&practitioner=P1&from=2026-03-04&to=2026-03-31")
                        .with(program(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.offers[0].practitioner").value("P1"))
                .andExpect(jsonPath("$.offers[0].room").value("R1"))
                .andExpect(jsonPath("$.offers[0].ownWaitMinutes").isNumber())
                .andExpect(jsonPath("$.offers[0].addedWaitMinutes").isNumber())
                .andExpect(jsonPath("$.offers[0].overtimeRisk").isNumber())
                .andReturn()
                .getResponse()
                .getContentAsString();
        JsonNode offer = JsonMapper.shared().readTree(answer).get("offers").get(0);
        String body = booking(
                referral,
                offer.get("session").asString(),
                offer.get("start").asString(),
                offer.get("slotMinutes").asString());
        send(post(PATH), body)
                .andExpect(status().isCreated())
                .andExpect(header().string(HttpHeaders.ETAG, "\"0\""))
                .andExpect(header().string(HttpHeaders.LOCATION, containsString(PATH)))
                .andExpect(jsonPath("$.status").value("booked"));
        Referral next = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        send(post(PATH), body.replace(referral.id().toString(), next.id().toString()))
                .andExpect(status().isConflict())
                .andExpect(content().contentType(MediaType.APPLICATION_PROBLEM_JSON))
                .andExpect(jsonPath("$.code").value("slot-taken"));
    }

    /** A program that lost the answer to its booking finds the appointment by what it is refused with, or by the referral. */
    @Test
    void booking_whose_answer_was_lost_can_be_found() throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        send(post(PATH), booking(referral, sessionOf(), "2026-03-04T10:00", "60"))
                .andExpect(status().isCreated());
        UUID booked = appointments
                .findByClinicIdAndReferralIdInOrderByStartsAt(clinic.id(), List.of(referral.id()))
                .get(0)
                .id();
        send(post(PATH), booking(referral, sessionOf(), "2026-03-04T11:00", "60"))
                .andExpect(status().isConflict())
                .andExpect(jsonPath("$.code").value("already-booked"))
                .andExpect(jsonPath("$.appointment").value(booked.toString()));
        mvc.perform(get("/api/v1/referrals/" + referral.id()).with(program(clinic.id())))
                .andExpect(jsonPath("$.appointments", hasSize(1)))
                .andExpect(jsonPath("$.appointments[0].id").value(booked.toString()))
                .andExpect(jsonPath("$.appointments[0].start").value(containsString("2026-03-04T10:00")))
                .andExpect(jsonPath("$.appointments[0].status").value("booked"));
    }

    @Test
    void no_offer_says_why() throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        none(referral, "&from=2026-03-07&to=2026-03-08", "no-session");
        Referral forbidden = fixture.referral(clinic, perforated());
        none(forbidden, "&from=2026-03-04&to=2026-03-06", "contraindicated");
        Referral irrigation = fixture.referral(clinic, Method.IRRIGATION, Ears.BOTH);
        none(irrigation, "&from=2026-03-04&to=2026-03-06&practitioner=P2", "not-trained");
        Referral softened = fixture.referral(
                clinic, DiaryFixture.details(Method.MICROSUCTION, Ears.BOTH, WEDNESDAY.plusWeeks(3), null, null));
        none(softened, "&from=2026-03-04&to=2026-03-06", "softener");
    }

    private void none(Referral referral, String days, String reason) throws Exception {
        mvc.perform(get("/api/v1/slots?referral=" + referral.id() + days).with(program(clinic.id())))
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.offers").isEmpty())
                .andExpect(jsonPath("$.none.reason").value(reason))
                .andExpect(jsonPath("$.none.detail").isNotEmpty());
    }

    @Test
    void slot_shorter_than_offered_is_refused_unless_meant() throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        String booking = booking(referral, sessionOf(), "2026-03-04T10:00", "15");
        send(post(PATH), booking)
                .andExpect(status().is(422))
                .andExpect(jsonPath("$.code").value("shorter-than-offered"))
                .andExpect(jsonPath("$.problems[0].field").value("slotMinutes"));
        send(post(PATH), booking.replace("}", ",\"shorter\":true}")).andExpect(status().isCreated());
    }

    @Test
    void place_whose_only_movable_unit_is_in_another_room_is_taken() throws Exception {
        kit.unit(clinic.id(), Optional.empty(), "Suction on wheels", Method.MICROSUCTION, null, true);
        fixture.appointment(
                clinic,
                fixture.referral(clinic, Method.MICROSUCTION, Ears.LEFT),
                fixture.secondPlace(clinic, WEDNESDAY.atTime(10, 0), 30));
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        send(post(PATH), booking(referral, sessionOf(), "2026-03-04T10:15", "60"))
                .andExpect(status().isConflict())
                .andExpect(content().contentType(MediaType.APPLICATION_PROBLEM_JSON))
                .andExpect(jsonPath("$.code").value("slot-taken"))
                .andExpect(jsonPath("$.problems[0].field").value("start"))
                .andExpect(jsonPath("$.problems[0].given").value("2026-03-04 10:15"))
                .andExpect(jsonPath("$.problems[0].allowed")
                        .value("In another room at that time: Suction on wheels. Free again from 10:30."));
        send(post(PATH), booking(referral, sessionOf(), "2026-03-04T10:30", "60"))
                .andExpect(status().isCreated());
    }

    @Test
    void contraindicated_method_is_422() throws Exception {
        Referral referral = fixture.referral(clinic, perforated());
        send(post(PATH), booking(referral, sessionOf(), "2026-03-04T10:00", "30"))
                .andExpect(status().is(422))
                .andExpect(jsonPath("$.code").value("method-contraindicated"));
    }

    @Test
    void every_wrong_field_is_named_with_what_is_allowed() throws Exception {
        send(post(PATH), "{\"referral\":\"x\",\"start\":\"noon\",\"slotMinutes\":0}")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems", hasSize(4)))
                .andExpect(jsonPath("$.problems[*].field", hasItem("session")))
                .andExpect(jsonPath("$.problems[*].remedy").isNotEmpty());
    }

    @Test
    void change_needs_the_version_that_was_seen() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        String confirm = "{\"status\":\"booked\",\"confirmed\":true}";
        send(patch(PATH + "/" + id), confirm).andExpect(status().is(428));
        send(patch(PATH + "/" + id).header(HttpHeaders.IF_MATCH, "\"7\""), confirm)
                .andExpect(status().isPreconditionFailed());
        send(patch(PATH + "/" + id).header(HttpHeaders.IF_MATCH, "\"0\""), confirm)
                .andExpect(status().isOk())
                .andExpect(header().string(HttpHeaders.ETAG, "\"1\""))
                .andExpect(jsonPath("$.confirmed").value(true));
        send(patch(PATH + "/" + id).header(HttpHeaders.IF_MATCH, "\"0\""), confirm)
                .andExpect(status().isPreconditionFailed());
    }

    @Test
    void move_and_cancel_by_patch() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        String move = "{\"session\":\"" + sessionOf() + "\",\"start\":\"2026-03-04T11:00\",\"slotMinutes\":35}";
        send(patch(PATH + "/" + id).header(HttpHeaders.IF_MATCH, "\"0\""), move)
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.start").value(containsString("2026-03-04T11:00")))
                .andExpect(jsonPath("$.slotMinutes").value(35));
        send(patch(PATH + "/" + id).header(HttpHeaders.IF_MATCH, "\"1\""), "{\"status\":\"cancelled\"}")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[*].field", hasItem("cancelledBy")))
                .andExpect(jsonPath("$.problems[*].field", hasItem("reason")));
        send(
                        patch(PATH + "/" + id).header(HttpHeaders.IF_MATCH, "\"1\""),
                        "{\"status\":\"cancelled\",\"cancelledBy\":\"clinic\",\"reason\":\"cover\"}")
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.attendance").value("cancelled_by_clinic"));
        send(patch(PATH + "/" + id).header(HttpHeaders.IF_MATCH, "\"2\""), "{\"status\":\"fulfilled\"}")
                .andExpect(status().isBadRequest());
    }

    @Test
    void clock_and_findings_reach_the_visit_log() throws Exception {
        UUID id = fixture.appointment(clinic, WEDNESDAY.atTime(10, 0), 30);
        clock.set(Instant.parse("2026-03-04T11:00:00Z"));
        clocked(id, "arrived", "2026-03-04T09:55")
                .andExpect(status().isOk())
                .andExpect(jsonPath("$.status").value("checked-in"));
        clocked(id, "called_in", "2026-03-04T10:02").andExpect(status().isOk());
        clocked(id, "finished", "2026-03-04T10:02").andExpect(status().isBadRequest());
        clocked(id, "finished", "2026-03-04T10:24").andExpect(status().isOk());
        clocked(id, "finished", "2026-03-04T10:25").andExpect(status().isConflict());
        clocked(id, "room_ready", "2026-03-04T12:24").andExpect(status().isBadRequest());
        clocked(id, "slept", "2026-03-04T10:24").andExpect(status().isBadRequest());
        send(
                        put(PATH + "/" + id + "/findings"),
                        "{\"right\":{\"methods\":[\"microsuction\",\"manual_removal\"],\"wax\":\"hard\",\"outcome\":\"clear\"},\"stoppedEarly\":\"no\"}")
                .andExpect(status().isOk());
        var visit = visits.findById(
                        appointments.findById(id).orElseThrow().visitId().orElseThrow())
                .orElseThrow();
        assertThat(visit.outcome(Ear.RIGHT)).contains(Outcome.CLEAR);
        assertThat(visit.methods(Ear.RIGHT)).hasSize(2);
        assertThat(visit.outcome(Ear.LEFT)).isEmpty();
        send(put(PATH + "/" + id + "/findings"), "{\"left\":{\"wax\":\"granite\"}}")
                .andExpect(status().isBadRequest())
                .andExpect(jsonPath("$.problems[0].field").value("left.wax"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "{", "[]", "\"x\"", "{\"slotMinutes\":{}}", "null"})
    void broken_bodies_are_4xx(String body) throws Exception {
        int status = send(post(PATH), body).andReturn().getResponse().getStatus();
        assertThat(status).isBetween(400, 499);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/api/v1/slots",
                "/api/v1/slots?referral=1;drop",
                "/api/v1/slots?referral=%s&from=0000-01-01",
                "/api/v1/slots?referral=%s&from=2026-03-09&to=2026-03-04",
                "/api/v1/slots?referral=%s&practitioner=Nobody",
                "/api/v1/appointments/none"
            })
    void wrong_questions_are_4xx(String path) throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.BOTH);
        mvc.perform(get(java.net.URI.create(path.replace("%s", referral.id().toString())))
                        .with(program(clinic.id())))
                .andExpect(status().is4xxClientError())
                .andExpect(content().string(not(containsString("Exception"))));
    }

    @Test
    void other_clinics_and_people_are_kept_out() throws Exception {
        TestClinic other = clinics.open();
        UUID theirs = fixture.appointment(other, WEDNESDAY.atTime(10, 0), 30);
        mvc.perform(get(PATH + "/" + theirs).with(program(clinic.id()))).andExpect(status().isNotFound());
        send(patch(PATH + "/" + theirs).header(HttpHeaders.IF_MATCH, "*"), "{\"status\":\"noshow\"}")
                .andExpect(status().isNotFound());
        clocked(theirs, "arrived", "2026-03-03T09:00").andExpect(status().isNotFound());
        send(put(PATH + "/" + theirs + "/findings"), "{}").andExpect(status().isNotFound());
        mvc.perform(get(PATH + "/" + theirs)).andExpect(status().isUnauthorized());
        mvc.perform(get(PATH + "/" + theirs).with(lead(other.id()))).andExpect(status().isForbidden());
        assertThat(appointments.findById(theirs).orElseThrow().status()).isEqualTo(AppointmentStatus.BOOKED);
    }

    private ResultActions clocked(UUID id, String event, String at) throws Exception {
        return send(post(PATH + "/" + id + "/clock"), "{\"event\":\"" + event + "\",\"at\":\"" + at + "\"}");
    }

    private ResultActions send(MockHttpServletRequestBuilder request, String body) throws Exception {
        return mvc.perform(
                request.contentType(MediaType.APPLICATION_JSON).content(body).with(program(clinic.id())));
    }

    private static String booking(Referral referral, String session, String start, String slotMinutes) {
        return "{\"referral\":\"" + referral.id() + "\",\"session\":\"" + session + "\",\"start\":\"" + start
                + "\",\"slotMinutes\":" + slotMinutes + "}";
    }

    /** The name of the session on Wednesday, as an offer gives it. */
    private String sessionOf() throws Exception {
        Referral referral = fixture.referral(clinic, Method.MICROSUCTION, Ears.RIGHT);
        String answer = mvc.perform(get("/api/v1/slots?referral=" + referral.id()
                                + "&practitioner=P1&from=2026-03-04&to=2026-03-04")
                        .with(program(clinic.id())))
                .andReturn()
                .getResponse()
                .getContentAsString();
        return JsonMapper.shared()
                .readTree(answer)
                .get("offers")
                .get(0)
                .get("session")
                .asString();
    }

    private static ReferralDetails perforated() {
        ReferralDetails said = DiaryFixture.details(Method.IRRIGATION, Ears.BOTH, null, null, null);
        return said.with(new CautionAnswers(true, List.of(new AskedCaution(Caution.PERFORATION, null, null))));
    }
}
