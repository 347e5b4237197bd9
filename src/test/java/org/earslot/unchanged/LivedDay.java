package org.earslot.unchanged;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.springframework.http.HttpMethod;
import org.springframework.mock.web.MockHttpServletResponse;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What is left of the day goes by, reported by a program, and the screens of the day are read on the way. */
final class LivedDay {

    private static final String DATE = "2026-03-03";
    private static final String DAY = "/api/v1/days/" + DATE;
    private static final List<String> EVENTS = List.of("arrived", "called_in", "finished", "room_ready");
    private static final Duration BETWEEN = Duration.ofMinutes(3);
    private static final int READ_EVERY = 9;
    private static final List<String> SCREENS =
            List.of("/day/" + DATE, "/day/" + DATE + "/now", "/day/" + DATE + "/sheet", "/referrals", "/kit");
    private static final JsonMapper JSON = JsonMapper.shared();

    private final DemoProgram demo;
    private Instant now = DemoProgram.MOMENT;

    LivedDay(DemoProgram demo) {
        this.demo = demo;
    }

    void addTo(Recording recording) throws Exception {
        int number = 0;
        for (JsonNode place : stillToCome()) {
            String id = place.path("appointment").stringValue();
            for (String event : EVENTS) {
                later();
                String body = JSON.writeValueAsString(Map.of("event", event));
                String address = "/api/v1/appointments/" + id;
                record(recording, number + " " + event, demo.send(HttpMethod.POST, address + "/clock", body));
                if (event.equals("called_in")) {
                    String findings = JSON.writeValueAsString(findings(place));
                    MockHttpServletResponse answer = demo.send(HttpMethod.PUT, address + "/findings", findings);
                    record(recording, number + " findings", answer);
                }
                if (number % READ_EVERY == 0) {
                    screens(recording, number + " " + event, id);
                }
            }
            number++;
        }
    }

    private void later() {
        now = now.plus(BETWEEN);
        demo.at(now);
    }

    /** As the day lists them, with their methods and ears. */
    private List<JsonNode> stillToCome() throws Exception {
        List<JsonNode> places = new ArrayList<>();
        for (JsonNode practitioner :
                JSON.readTree(demo.readAll(demo.program(), DAY)).path("practitioners")) {
            for (JsonNode place : practitioner.path("list")) {
                if (place.path("finished").isNull()) {
                    places.add(place);
                }
            }
        }
        return places;
    }

    private static Map<String, Object> findings(JsonNode place) {
        Map<String, Object> ear = new LinkedHashMap<>();
        ear.put("methods", List.of(place.path("method").asString("microsuction")));
        ear.put("wax", "soft");
        ear.put("outcome", "clear");
        Map<String, Object> findings = new LinkedHashMap<>();
        findings.put("right", ear);
        findings.put("stoppedEarly", "no");
        return findings;
    }

    private void screens(Recording recording, String when, String appointment) throws Exception {
        record(recording, when + ", " + DAY, demo.read(demo.program(), DAY));
        for (var person : demo.people().entrySet()) {
            for (String screen : SCREENS) {
                record(recording, when + ", " + person.getKey() + " " + screen, demo.read(person.getValue(), screen));
            }
            MockHttpServletResponse answer = demo.read(person.getValue(), "/appointments/" + appointment);
            record(recording, when + ", " + person.getKey() + " appointment", answer);
        }
    }

    private static void record(Recording recording, String place, MockHttpServletResponse answer) throws Exception {
        recording.add("visit " + place, Plain.answer(place, answer));
    }
}
