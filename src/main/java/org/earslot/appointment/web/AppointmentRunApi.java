package org.earslot.appointment.web;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.web.AppointmentBody;
import org.earslot.booking.web.PlaceForm;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.CallInGate;
import org.earslot.day.ClockEvent;
import org.earslot.day.Findings;
import org.earslot.day.RunningDay;
import org.earslot.day.web.FindingsBody;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Appointments for other programs as they happen: called in, finished, what was found. */
@RestController
@RequestMapping("/api/v1/appointments/{id}")
class AppointmentRunApi {

    private final RunningDay running;
    private final CallInGate gate;
    private final AppointmentAnswers answers;
    private final CurrentClinic current;
    private final ClinicClock clock;

    AppointmentRunApi(
            RunningDay running, CallInGate gate, AppointmentAnswers answers, CurrentClinic current, ClinicClock clock) {
        this.running = running;
        this.gate = gate;
        this.answers = answers;
        this.current = current;
        this.clock = clock;
    }

    /** What happened when; without {@code at} it is now. */
    record ClockBody(@Nullable String event, @Nullable String at) {}

    @PostMapping("/clock")
    ResponseEntity<AppointmentBody> happened(@PathVariable UUID id, @RequestBody ClockBody body) {
        Reading reading = new Reading();
        Optional<ClockEvent> event = reading.requiredWord("event", body.event(), ClockEvent::of, ClockEvent.values());
        Instant at = body.at() == null
                ? null
                : PlaceForm.dateTime(reading, "at", body.at())
                        .map(time -> clock.at(current.id(), time.toLocalDate(), time.toLocalTime()))
                        .orElse(null);
        if (!reading.clean() || event.isEmpty()) {
            throw Refused.invalid(reading.problems());
        }
        if (event.get() == ClockEvent.CALLED_IN) {
            gate.refuses(current.id(), id, null, current.who()).ifPresent(refusal -> {
                throw Refused.of(List.of(refusal));
            });
        }
        return answers.of(running.record(current.id(), id, null, event.get(), at), null);
    }

    @PutMapping("/findings")
    ResponseEntity<AppointmentBody> findings(@PathVariable UUID id, @RequestBody FindingsBody body) {
        Reading reading = new Reading();
        Findings findings = body.read(reading);
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        return answers.of(running.recordFindings(current.id(), id, findings, current.who()), null);
    }
}
