package org.earslot.lived;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.lived.Clinic.Listed;
import org.earslot.referral.RedFlag;
import tools.jackson.databind.JsonNode;

/** Reception: the phone, the door and the desk. */
final class Desk {

    private static final List<String> FAMILY = List.of("Fennelmarch", "Oakwhistle", "Tansyfield", "Birchhollow");
    private static final List<String> GIVEN = List.of("Ardith", "Corwen", "Hestra", "Joveny", "Melisan");

    private final Clinic clinic;
    private final Journal journal;
    private final Random random;

    Desk(Clinic clinic, Journal journal, Random random) {
        this.clinic = clinic;
        this.journal = journal;
        this.random = random;
    }

    /** Somebody stands at the desk; checked in from the day page. */
    void checkIn(String id, LocalDate date) {
        LocalDateTime from = clinic.now();
        Page day = clinic.reception.open("/day/" + date);
        if (day.form("/appointments/" + id + "/check-in").isPresent()) {
            clinic.reception.press(day, "/appointments/" + id + "/check-in");
        } else {
            String ask = "/appointments/" + id + "/arrival";
            clinic.reception.press(clinic.reception.open(ask), ask, Map.of("noneFlagged", "yes"));
        }
        journal.happened(id, date, "arrived", from, clinic.now());
    }

    /** Checked in by a program at the door. */
    void checkInByProgram(String id, LocalDate date) {
        LocalDateTime from = clinic.now();
        clinic.program.post("/appointments/" + id + "/clock", Map.of("event", "arrived"));
        journal.happened(id, date, "arrived", from, clinic.now());
    }

    /** Two screens press at the same time: one does it, the other is told, neither loses anything. */
    void checkInTwice(String id, LocalDate date) {
        String action = "/appointments/" + id + "/check-in";
        Page other = clinic.secondDesk.open("/day/" + date);
        checkIn(id, date);
        if (other.form(action).isEmpty()) {
            return;
        }
        Page answer = clinic.secondDesk.attempt(other.form(action).orElseThrow());
        assertThat(answer.status()).as("the second press: %s", answer.refusal()).isIn(200, 409);
    }

    /** Pressed two minutes ago without a connection, and sent twice when it was back. */
    void checkInWithoutConnection(String id, LocalDate date) {
        Page page = clinic.reception.open("/day/" + date);
        if (page.form("/appointments/" + id + "/check-in").isEmpty()) {
            checkIn(id, date);
            return;
        }
        LocalDateTime pressed = clinic.now();
        Page.Form kept = page.form("/appointments/" + id + "/check-in")
                .orElseThrow()
                .with(Map.of("key", UUID.randomUUID().toString(), "ageMillis", "120000"));
        clinic.clockReaches(pressed.plusMinutes(2));
        clinic.reception.sendKept(kept);
        clinic.reception.sendKept(kept);
        journal.happened(id, date, "arrived", pressed.minusMinutes(1), pressed.plusMinutes(1));
    }

    void didNotCome(String id, LocalDate date) {
        clinic.reception.press(clinic.reception.open("/day/" + date), "/appointments/" + id + "/did-not-attend");
        journal.hasStatus(id, date, "noshow");
    }

    /** A caller whom nobody knows yet is referred and booked into the first offer; the appointment, if one was free. */
    Optional<Listed> phonedReferral() {
        Page form = clinic.reception.open("/referrals/new");
        Map<String, String> said = new HashMap<>(Map.of(
                "origin",
                "referral",
                "familyName",
                FAMILY.get(random.nextInt(FAMILY.size())),
                "givenName",
                GIVEN.get(random.nextInt(GIVEN.size())) + " " + Integer.toString(random.nextInt(1 << 20), 36),
                "dateOfBirth",
                "19" + (40 + random.nextInt(50)) + "-05-17",
                "contact",
                "07700 900" + (100 + random.nextInt(900)),
                "noneFlagged",
                "yes",
                "noneOfThese",
                "yes",
                "ears",
                List.of("right", "left", "both").get(random.nextInt(3)),
                "method",
                List.of("microsuction", "manual_removal").get(random.nextInt(2))));
        said.put("shortNotice", "yes");
        Page saved = saved(form.form("/referrals").orElseThrow().with(said));
        String referral = saved.path().replaceAll("^/referrals/", "").replaceAll("[^0-9a-f-].*$", "");
        assertThat(referral)
                .as("page after saving: %s %s", saved.path(), saved.refusal())
                .hasSize(36);
        Page offers = clinic.reception.open("/slots?referral=" + referral);
        return offers.form("/appointments").map(offer -> booked(clinic.reception.send(offer)));
    }

    /** Saved at once, or as a new record when somebody much alike is known already. */
    private Page saved(Page.Form referral) {
        Page answer = clinic.reception.attempt(referral);
        return answer.status() == 409 ? clinic.reception.press(answer, "/referrals", Map.of("another", "yes")) : answer;
    }

    /** Another program sends a referral and books the first offer. */
    Optional<Listed> sentReferral() {
        String id = sentAlone().path("id").asString();
        JsonNode answer = clinic.program.get("/slots?referral=" + id);
        JsonNode offers = answer.isArray() ? answer : answer.path("offers");
        if (offers.isEmpty()) {
            return Optional.empty();
        }
        JsonNode best = offers.get(0);
        JsonNode booked = clinic.program.post(
                "/appointments",
                Map.of(
                        "referral", id,
                        "session", best.path("session").asString(),
                        "start", best.path("start").asString(),
                        "slotMinutes", best.path("slotMinutes").asInt()));
        return Optional.of(known(
                booked.path("id").asString(),
                LocalDateTime.parse(best.path("start").asString())));
    }

    /** Somebody who was referred, but not booked, stands at the door: fitted in after the next one. */
    void walkIn(LocalDate date) {
        JsonNode referral =
                clinic.program.get("/referrals/" + sentAlone().path("id").asString());
        String number = referral.path("patientRef").asString();
        Page day = clinic.reception.open("/day/" + date);
        if (day.form("/day/" + date + "/fit-in/card").isEmpty()) {
            return;
        }
        LocalDateTime from = clinic.now();
        Page card = clinic.reception.press(
                day,
                "/day/" + date + "/fit-in/card",
                Map.of("fitInPatient", number, "fitInReason", "the hearing aid whistles"));
        Page.Form afterNext = card.form("/day/" + date + "/fit-in/seat")
                .orElseThrow(() -> new AssertionError("no card for a walk-in: " + card.refusal() + card.text()));
        clinic.reception.send(
                afterNext.with(Map.of("noneFlagged", "yes", "cautionsAsked", "yes", "turn", "after_next")));
        Listed seated = clinic.visits(date).stream()
                .filter(visit -> visit.text("patientRef").equals(number))
                .findFirst()
                .orElseThrow(() -> new AssertionError("fitted in, but not in the day: " + number));
        journal.happened(seated.id(), date, "arrived", from, clinic.now());
    }

    /** The caller cannot come then: moved to the first offer; where it now is, if one was free. */
    Optional<Listed> move(Listed visit) {
        Page offers = clinic.reception.open("/slots?appointment=" + visit.id());
        return offers.form("/appointments/" + visit.id() + "/move").map(offer -> booked(clinic.reception.send(offer)));
    }

    void cancel(Listed visit) {
        Page page = clinic.reception.open("/appointments/" + visit.id());
        clinic.reception.press(
                page,
                "/appointments/" + visit.id() + "/cancel",
                Map.of("by", "patient", "why", "cannot come that day"));
        journal.hasStatus(visit.id(), visit.bookedStart().toLocalDate(), "cancelled");
    }

    /** A referral by a program: known by number alone, every red flag and every caution asked. */
    private JsonNode sentAlone() {
        Map<String, Boolean> flags =
                Arrays.stream(RedFlag.values()).collect(Collectors.toMap(RedFlag::code, flag -> false));
        return clinic.program.post(
                "/referrals",
                Map.of(
                        "familyName",
                        FAMILY.get(random.nextInt(FAMILY.size())),
                        "givenName",
                        GIVEN.get(random.nextInt(GIVEN.size())) + " " + Integer.toString(random.nextInt(1 << 20), 36),
                        "dateOfBirth",
                        "19" + (40 + random.nextInt(50)) + "-11-02",
                        "contact",
                        "07700 900" + (100 + random.nextInt(900)),
                        "method",
                        "microsuction",
                        "ears",
                        random.nextBoolean() ? List.of("right", "left") : List.of("left"),
                        "redFlags",
                        flags,
                        "cautionsAsked",
                        true));
    }

    private Listed booked(Page after) {
        String id = after.path().replaceAll("^/appointments/", "").replaceAll("[^0-9a-f-].*$", "");
        assertThat(id)
                .as("page after booking: %s %s", after.path(), after.refusal())
                .hasSize(36);
        JsonNode said = clinic.program.get("/appointments/" + id);
        return known(id, LocalDateTime.parse(said.path("start").asString()));
    }

    private Listed known(String id, LocalDateTime start) {
        journal.isBooked(id, start.toLocalDate());
        return clinic.visits(start.toLocalDate()).stream()
                .filter(visit -> visit.id().equals(id))
                .findFirst()
                .orElseThrow(() -> new AssertionError("booked, but not in the day: " + id + " " + start));
    }
}
