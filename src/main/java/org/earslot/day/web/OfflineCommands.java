package org.earslot.day.web;

import jakarta.servlet.http.HttpServletRequest;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.ArrivalQuestions;
import org.earslot.day.CallInGate;
import org.earslot.day.ClockCommand;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Reason;
import org.springframework.http.ResponseEntity;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** The presses of the running list as a script sends them: with a key each, perhaps kept for a while. */
@RestController
@RequestMapping("/appointments/{id}")
class OfflineCommands {

    private static final Map<String, ClockEvent> BY_THE_CHAIR =
            Map.of("call-in", ClockEvent.CALLED_IN, "finish", ClockEvent.FINISHED, "room-ready", ClockEvent.ROOM_READY);

    private final RunningDay running;
    private final CallInGate gate;
    private final ArrivalQuestions questions;
    private final CurrentClinic current;
    private final Messages messages;

    OfflineCommands(
            RunningDay running, CallInGate gate, ArrivalQuestions questions, CurrentClinic current, Messages messages) {
        this.running = running;
        this.gate = gate;
        this.questions = questions;
        this.current = current;
        this.messages = messages;
    }

    /** @param done whether it counts; the same for the same key, however often it is sent */
    record Answer(boolean done, List<String> said) {}

    @PostMapping(value = "/check-in", params = "key")
    ResponseEntity<Answer> checkIn(@PathVariable UUID id, @RequestParam Map<String, String> sent) {
        return press(id, ClockEvent.ARRIVED, sent);
    }

    @PostMapping(
            value = {"/call-in", "/finish", "/room-ready"},
            params = "key")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    ResponseEntity<Answer> byTheChair(
            @PathVariable UUID id, @RequestParam Map<String, String> sent, HttpServletRequest request) {
        String path = request.getRequestURI();
        return press(id, BY_THE_CHAIR.get(path.substring(path.lastIndexOf('/') + 1)), sent);
    }

    private ResponseEntity<Answer> press(UUID id, ClockEvent event, Map<String, String> sent) {
        Reading reading = new Reading();
        Optional<UUID> key = reading.required("key", reading.id("key", sent.get("key")), "page.allowed.id.given");
        Optional<Integer> age = reading.required(
                "ageMillis",
                reading.whole("ageMillis", sent.get("ageMillis"), 0, Integer.MAX_VALUE),
                "day.allowed.ageMillis");
        if (key.isEmpty() || age.isEmpty()) {
            return ResponseEntity.badRequest()
                    .body(new Answer(
                            false,
                            reading.problems().stream()
                                    .map(problem -> messages.say(problem.allowed()))
                                    .toList()));
        }
        ClockCommand press = new ClockCommand(key.get(), id, event, Duration.ofMillis(age.get()));
        BookingResult result = (event == ClockEvent.CALLED_IN
                        ? gate.refuses(
                                current.id(), id, current.practitionerId().orElse(null), current.who())
                        : Optional.<BookingRefusal>empty())
                .map(BookingResult::refused)
                .orElseGet(() -> event == ClockEvent.ARRIVED && sent.containsKey("nothingNew")
                        ? questions.checkInNothingNew(current.id(), press, current.who())
                        : running.press(current.id(), press, current.who()));
        if (result instanceof NotDone no) {
            List<BookingRefusal> refusals = no.refusals();
            return ResponseEntity.status(Reason.status(refusals)).body(new Answer(false, messages.say(no.refusals())));
        }
        return ResponseEntity.ok(new Answer(true, List.of(messages.say("booking.notice." + event.code()))));
    }
}
