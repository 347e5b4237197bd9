package org.earslot.unchanged;

import java.nio.file.Path;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.earslot.testing.PageWalk;
import org.springframework.http.HttpMethod;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.SerializationFeature;
import tools.jackson.databind.json.JsonMapper;

/**
 * Records what the demo clinic shows and answers; started in a Java machine of its own, since its ids are seeded. The
 * order matters: what changes the clinic comes after what only reads it.
 */
public final class DemoRecorder {

    static final String READY = "recorded";

    private static final long SEED = 20_261_130;
    private static final int ESTIMATES = 1_000;
    private static final int ALIKE = 2;
    private static final YearMonth FIRST_MONTH = YearMonth.of(2024, 9);
    private static final YearMonth LAST_MONTH = YearMonth.of(2026, 3);
    private static final LocalDate FIRST_DAY = LocalDate.of(2026, 2, 23);
    private static final int DAYS = 35;
    private static final List<String> REVIEW_TABLES = List.of(
            "head",
            "estimated",
            "waits",
            "costliest",
            "compared",
            "indicators",
            "repeats",
            "estimated-months",
            "estimated-quarters",
            "tenths",
            "reported",
            "milestones",
            "weeks-overruns",
            "weeks-wait",
            "method",
            "ears",
            "wax",
            "canal",
            "depth",
            "practitioner",
            "hour",
            "referrer");
    private static final List<String> CHANGE_TABLES = List.of("slots", "no-longer-fit", "questions", "referrers");

    /** How many visits would have needed longer: next to a border one visit may fall on either side at each start. */
    private static final Pattern LONGER = Pattern.compile("(?<=\"longer\" : )\\{[^}]*}");

    private static final JsonMapper JSON =
            JsonMapper.builder().enable(SerializationFeature.INDENT_OUTPUT).build();

    private final DemoProgram demo;
    private final Path folder;

    private DemoRecorder(DemoProgram demo, Path folder) {
        this.demo = demo;
        this.folder = folder;
    }

    /** @param arguments the folder to write to */
    public static void main(String[] arguments) throws Exception {
        SeededRandomness.install();
        try {
            new DemoRecorder(DemoProgram.started(), Path.of(arguments[0])).record();
        } catch (Exception e) {
            e.printStackTrace(System.out);
            System.exit(1);
        }
        System.out.println(READY);
        System.exit(0);
    }

    private void record() throws Exception {
        part("interface.txt.gz", this::openApi);
        part("estimates.txt.gz", this::estimates);
        part("reviews.txt.gz", this::reviews);
        part("days.txt.gz", this::days);
        part("pages.txt.gz", this::pages);
        part("files.txt.gz", this::files);
        Offers offers = new Offers(demo, questions());
        part("offers.txt.gz", offers::addTo);
        part("bookings.txt.gz", offers::bookTo);
        part("lived.txt.gz", recording -> new LivedDay(demo).addTo(recording));
        part("addresses.txt", recording -> new WhoIsLetIn(demo).addTo(recording));
    }

    private interface Part {
        void addTo(Recording recording) throws Exception;
    }

    private void part(String file, Part part) throws Exception {
        long started = System.nanoTime();
        SeededRandomness.begin(file);
        Recording recording = new Recording();
        part.addTo(recording);
        recording.write(folder.resolve(file));
        System.out.printf("%s: %d places, %.1f s%n", file, recording.size(), (System.nanoTime() - started) / 1e9);
    }

    private void openApi(Recording recording) throws Exception {
        new OperationShapes(demo.readAll(demo.program(), "/api/v1/openapi.json")).addTo(recording);
    }

    private void estimates(Recording recording) throws Exception {
        List<Map<String, Object>> visits = questions().visits(ESTIMATES);
        String asked = JSON.writeValueAsString(visits);
        JsonNode answers =
                JSON.readTree(DemoProgram.text(demo.send(HttpMethod.POST, "/api/v1/estimates", asked), "estimates"));
        for (int i = 0; i < ESTIMATES; i++) {
            recording.add(
                    "estimate %04d".formatted(i),
                    JSON.writeValueAsString(visits.get(i)) + "\n"
                            + Plain.json(answers.get(i).toString()));
        }
    }

    private SeededQuestions questions() throws Exception {
        return new SeededQuestions(
                SEED,
                demo.readAll(demo.program(), "/api/v1/vocabulary"),
                demo.readAll(demo.program(), "/api/v1/practitioners"));
    }

    private void reviews(Recording recording) throws Exception {
        for (YearMonth month = FIRST_MONTH; !month.isAfter(LAST_MONTH); month = month.plusMonths(1)) {
            for (String address : List.of("/api/v1/reviews/" + month, "/api/v1/reviews/" + month + "/change")) {
                String review = Plain.json(demo.readAll(demo.program(), address));
                recording.add(address, LONGER.matcher(review).replaceAll("(not compared)"));
            }
        }
        for (String address : List.of("/api/v1/estimator", "/api/v1/policy", "/api/v1/vocabulary", "/api/v1/rooms")) {
            recording.add(address, Plain.json(demo.readAll(demo.program(), address)));
        }
    }

    private void days(Recording recording) throws Exception {
        for (LocalDate day = FIRST_DAY; day.isBefore(FIRST_DAY.plusDays(DAYS)); day = day.plusDays(1)) {
            String address = "/api/v1/days/" + day;
            recording.add(address, Plain.json(demo.readAll(demo.program(), address)));
        }
    }

    private void pages(Recording recording) throws Exception {
        // The first time around starts what is worked out in the background; the second shows it.
        walk("lead", Optional.empty());
        Quiet.await();
        for (String role : demo.people().keySet()) {
            walk(role, Optional.of(recording));
        }
    }

    private void walk(String role, Optional<Recording> recording) throws Exception {
        RequestPostProcessor who = demo.people().get(role);
        PageWalk walk = new PageWalk(
                (address, place) -> {
                    MockHttpServletResponse answer = demo.read(who, address);
                    if (recording.isPresent()) {
                        recording.get().add(role + " " + place, Plain.answer(address, answer));
                    }
                    return answer;
                },
                ALIKE);
        walk.from("/day/2026-03-03", "/");
    }

    private void files(Recording recording) throws Exception {
        RequestPostProcessor lead = demo.people().get("lead");
        file(recording, lead, "/import/visit-log.csv");
        file(recording, lead, "/import/bookings.csv");
        file(recording, lead, "/audit/export");
        file(recording, demo.program(), "/api/v1/visit-log?from=2026-02-01&to=2026-03-03");
        file(recording, demo.program(), "/api/v1/bookings?from=2026-03-03");
        for (String month : List.of("2025-03", "2026-01", "2026-02", "2026-03")) {
            for (String table : REVIEW_TABLES) {
                file(recording, lead, "/review/" + month + "/" + table + ".csv");
            }
            for (String table : CHANGE_TABLES) {
                file(recording, lead, "/review/" + month + "/change/" + table + ".csv");
            }
        }
    }

    private void file(Recording recording, RequestPostProcessor who, String address) throws Exception {
        recording.add(address, Plain.text(demo.readAll(who, address)));
    }
}
