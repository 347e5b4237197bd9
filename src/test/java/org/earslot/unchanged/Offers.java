package org.earslot.unchanged;

import java.util.LinkedHashMap;
import java.util.Map;
import org.springframework.http.HttpMethod;
import org.springframework.mock.web.MockHttpServletResponse;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Made-up referrals, what each is offered, and the booking of some of the first offers. */
final class Offers {

    private static final int REFERRALS = 500;
    private static final int BOOKED_ONE_IN = 5;
    private static final JsonMapper JSON = JsonMapper.shared();

    private final DemoProgram demo;
    private final SeededQuestions questions;
    private final Map<String, JsonNode> firstOffers = new LinkedHashMap<>();

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
            String address = "/api/v1/slots?referral=" + id;
            MockHttpServletResponse answer = demo.read(demo.program(), address);
            recording.add("offers %03d".formatted(i), referral + "\n" + Plain.answer(address, answer));
            JsonNode offers = JSON.readTree(DemoProgram.body(answer)).path("offers");
            if (!offers.isEmpty()) {
                firstOffers.put(id, offers.get(0));
            }
        }
    }

    /** One in five takes its first offer, or finds it taken. */
    void bookTo(Recording recording) throws Exception {
        int number = 0;
        for (var first : firstOffers.entrySet()) {
            if (number++ % BOOKED_ONE_IN == 0) {
                JsonNode offer = first.getValue();
                String asked = JSON.writeValueAsString(Map.of(
                        "referral", first.getKey(),
                        "session", offer.path("session").stringValue(),
                        "start", offer.path("start").stringValue(),
                        "slotMinutes", offer.path("slotMinutes").asString()));
                MockHttpServletResponse answer = demo.send(HttpMethod.POST, "/api/v1/appointments", asked);
                recording.add("booking %03d".formatted(number), Plain.answer(offer.toString(), answer));
            }
        }
    }
}
