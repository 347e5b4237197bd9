package org.earslot.unchanged;

import java.io.UnsupportedEncodingException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.springframework.http.HttpMethod;
import org.springframework.mock.web.MockHttpServletResponse;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Made-up referrals, what each is offered, and some of them booked one after the other. */
final class Offers {

    private static final int REFERRALS = 350;
    private static final int BOOKED_ONE_IN = 10;
    private static final String SLOTS = "/api/v1/slots?referral=";
    private static final JsonMapper JSON = JsonMapper.shared();

    private final DemoProgram demo;
    private final SeededQuestions questions;
    private final List<String> offered = new ArrayList<>();

    Offers(DemoProgram demo, SeededQuestions questions) {
        this.demo = demo;
        this.questions = questions;
    }

    void addTo(Recording recording) throws Exception {
        for (int i = 0; i < REFERRALS; i++) {
            String referral = JSON.writeValueAsString(questions.referral(i));
            MockHttpServletResponse taken = demo.send(HttpMethod.POST, "/api/v1/referrals", referral);
            String id = JSON.readTree(DemoProgram.text(taken, "referrals"))
                    .path("id")
                    .stringValue();
            String address = SLOTS + id;
            MockHttpServletResponse answer = demo.read(demo.program(), address);
            recording.add("offers %03d".formatted(i), referral + "\n" + Plain.answer(address, answer));
            if (firstOffer(answer).isObject()) {
                offered.add(id);
            }
        }
    }

    /** One in ten looks again and books the first offer. */
    void bookTo(Recording recording) throws Exception {
        for (int i = 0; i < offered.size(); i += BOOKED_ONE_IN) {
            JsonNode offer = firstOffer(demo.read(demo.program(), SLOTS + offered.get(i)));
            String asked = JSON.writeValueAsString(Map.of(
                    "referral", offered.get(i),
                    "session", offer.path("session").stringValue(),
                    "start", offer.path("start").stringValue(),
                    "slotMinutes", offer.path("slotMinutes").asString()));
            MockHttpServletResponse answer = demo.send(HttpMethod.POST, "/api/v1/appointments", asked);
            recording.add("booking %03d".formatted(i), Plain.answer(offer.toString(), answer));
        }
    }

    private static JsonNode firstOffer(MockHttpServletResponse answer) throws UnsupportedEncodingException {
        return JSON.readTree(DemoProgram.body(answer)).path("offers").path(0);
    }
}
