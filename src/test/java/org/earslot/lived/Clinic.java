package org.earslot.lived;

import java.net.URI;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.StreamSupport;
import org.earslot.lived.clock.MovedClock;
import tools.jackson.databind.JsonNode;

/** The demo clinic with the people who work in it, each at a screen of their own, and a program. */
final class Clinic {

    private static final ZoneId ZONE = ZoneId.of("Europe/London");

    /** As the README and the settings of demo mode print it. */
    private static final String DEMO_KEY = "demo-api:ca7378051218db93ff1f763221f8b8f7d7c7205558305e6a884f94d06806acb1";

    private final MovedClock clock;
    private final URI base;
    final Person reception;
    final Person secondDesk;
    final Person lead;
    final Program program;
    private final Map<String, Person> practitioners = new LinkedHashMap<>();

    Clinic(URI base, MovedClock clock) {
        this.base = base;
        this.clock = clock;
        reception = new Person(base, "reception");
        secondDesk = new Person(base, "reception");
        lead = new Person(base, "lead");
        program = new Program(base, DEMO_KEY);
    }

    /** The practitioner of that name, at a screen by the chair. */
    Person practitioner(String name) {
        return practitioners.computeIfAbsent(
                name, any -> new Person(base, name.toLowerCase(Locale.ROOT).replace(' ', '.')));
    }

    /** A visit of a day as the interface for programs tells it. */
    record Listed(String practitioner, String id, JsonNode said) {

        String text(String field) {
            JsonNode value = said.path(field);
            return value.isNull() || value.isMissingNode() ? "" : value.asString();
        }

        LocalDateTime bookedStart() {
            return LocalDateTime.parse(text("bookedStart"));
        }

        boolean has(String time) {
            return !text(time).isEmpty();
        }

        boolean isInRoom() {
            return has("calledIn") && !has("finished");
        }

        boolean isOff() {
            return List.of("cancelled", "noshow", "entered-in-error").contains(text("status"));
        }
    }

    JsonNode day(LocalDate date) {
        return program.get("/days/" + date);
    }

    static List<Listed> visits(JsonNode day) {
        return StreamSupport.stream(day.path("practitioners").spliterator(), false)
                .flatMap(one -> StreamSupport.stream(one.path("list").spliterator(), false)
                        .map(place -> new Listed(
                                one.path("practitioner").asString(),
                                place.path("appointment").asString(),
                                place)))
                .toList();
    }

    List<Listed> visits(LocalDate date) {
        return visits(day(date));
    }

    LocalDateTime now() {
        return LocalDateTime.ofInstant(clock.instant(), ZONE);
    }

    /** It is that late from now on, unless it is later already. */
    void clockReaches(LocalDateTime time) {
        Instant at = time.atZone(ZONE).toInstant();
        if (at.isAfter(clock.instant())) {
            clock.moveTo(at);
        }
    }
}
