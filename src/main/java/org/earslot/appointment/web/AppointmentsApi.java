package org.earslot.appointment.web;

import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingResult;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.web.AppointmentBody;
import org.earslot.booking.web.AppointmentChange;
import org.earslot.booking.web.PlaceForm;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.ClockEvent;
import org.earslot.day.RunningDay;
import org.earslot.offers.OfferedBooking;
import org.earslot.offers.OfferedBooking.Anyway;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.http.HttpHeaders;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Appointments for other programs: booked, shown, changed with the version seen. */
@RestController
@RequestMapping("/api/v1/appointments")
class AppointmentsApi {

    private static final int LONGEST_SLOT = 180;
    private static final int LONGEST_REASON = 500;

    private final Booking booking;
    private final RunningDay running;
    private final OfferedBooking offered;
    private final AppointmentAnswers answers;
    private final CurrentClinic current;
    private final ApplicationEventPublisher events;

    AppointmentsApi(
            Booking booking,
            RunningDay running,
            OfferedBooking offered,
            AppointmentAnswers answers,
            CurrentClinic current,
            ApplicationEventPublisher events) {
        this.booking = booking;
        this.running = running;
        this.offered = offered;
        this.answers = answers;
        this.current = current;
        this.events = events;
    }

    /**
     * What is to be booked: as an offer of {@code /slots} says it.
     *
     * @param shorter whether it may be shorter than offered
     * @param beyondLimit whether the session may end late more often than the clinic accepts
     */
    record BookBody(
            @Nullable String referral,
            @Nullable String session,
            @Nullable String start,
            @Nullable String slotMinutes,
            @Nullable Boolean shorter,
            @Nullable Boolean beyondLimit) {}

    @PostMapping
    ResponseEntity<AppointmentBody> book(@RequestBody BookBody body) {
        Reading reading = new Reading();
        Optional<UUID> referral =
                reading.required("referral", reading.id("referral", body.referral()), "page.allowed.id.given");
        Optional<AskedPlace> place = place(reading, body.session(), body.start(), body.slotMinutes());
        if (referral.isEmpty() || place.isEmpty()) {
            throw Refused.invalid(reading.problems());
        }
        Anyway decided = decided(body.beyondLimit(), body.shorter());
        BookingResult result = offered.book(current.id(), referral.get(), place.get(), decided, current.who());
        return answers.created(result);
    }

    @GetMapping("/{id}")
    ResponseEntity<AppointmentBody> show(@PathVariable UUID id) {
        Appointment appointment = answers.appointment(id);
        appointment
                .patientId()
                .ifPresent(patient -> events.publishEvent(
                        Audited.viewed(current.id(), "GET /api/v1/appointments/{id}", List.of(patient))));
        return answers.of(appointment);
    }

    /** Moves it, or changes its status; {@code If-Match} names the version that was seen. */
    @PatchMapping("/{id}")
    ResponseEntity<AppointmentBody> change(
            @PathVariable UUID id,
            @RequestHeader(name = HttpHeaders.IF_MATCH, required = false) @Nullable String ifMatch,
            @RequestBody AppointmentChange change) {
        int version = seen(answers.appointment(id), ifMatch);
        Reading reading = new Reading();
        if (change.moves() && change.status() != null) {
            reading.refuse("status", change.status(), "appointment.allowed.oneChange");
        }
        BookingResult result =
                change.moves() ? move(id, version, change, reading) : stand(id, version, change, reading);
        return answers.of(result, ifMatch);
    }

    private BookingResult move(UUID id, int version, AppointmentChange change, Reading reading) {
        Optional<AskedPlace> place = place(reading, change.session(), change.start(), change.slotMinutes());
        if (!reading.clean() || place.isEmpty()) {
            throw Refused.invalid(reading.problems());
        }
        Anyway decided = decided(change.beyondLimit(), change.shorter());
        return offered.move(current.id(), id, version, place.get(), decided);
    }

    private static Anyway decided(@Nullable Boolean beyondLimit, @Nullable Boolean shorter) {
        return new Anyway(Boolean.TRUE.equals(beyondLimit), Boolean.TRUE.equals(shorter));
    }

    private BookingResult stand(UUID id, int version, AppointmentChange change, Reading reading) {
        Optional<AppointmentStatus> status = change.newStatus(reading);
        boolean cancels = status.equals(Optional.of(AppointmentStatus.CANCELLED));
        Optional<CancelledBy> by = cancels ? change.by(reading) : Optional.empty();
        Optional<String> why = cancels
                ? reading.required(
                        "reason", reading.text("reason", change.reason(), LONGEST_REASON), "page.allowed.reason")
                : Optional.empty();
        if (!reading.clean() || status.isEmpty()) {
            throw Refused.invalid(reading.problems());
        }
        ClinicId clinic = current.id();
        return switch (status.get()) {
            case BOOKED -> booking.confirm(clinic, id, version);
            case CANCELLED -> booking.cancel(clinic, id, version, by.orElseThrow(), why.orElseThrow());
            case NOSHOW -> running.didNotAttend(clinic, id, version);
            case ENTERED_IN_ERROR -> booking.enterInError(clinic, id, version);
            default -> running.record(clinic, id, version, ClockEvent.ARRIVED, null);
        };
    }

    private Optional<AskedPlace> place(
            Reading reading, @Nullable String session, @Nullable String start, @Nullable String slotMinutes) {
        Optional<LocalDateTime> when = PlaceForm.start(reading, start);
        Optional<Integer> length = reading.requiredWhole("slotMinutes", slotMinutes, 1, LONGEST_SLOT);
        if (session == null || when.isEmpty() || length.isEmpty()) {
            if (session == null) {
                reading.refuse("session", "", "appointment.allowed.session");
            }
            return Optional.empty();
        }
        Optional<ClinicSession> held =
                offered.session(current.id(), session, when.get().toLocalDate());
        if (held.isEmpty()) {
            reading.refuse("session", session, "appointment.allowed.sessionHeld");
        }
        return held.map(one -> new AskedPlace(one.practitionerId(), one.roomId(), when.get(), length.get()));
    }

    /** The version named by {@code If-Match}; a strong comparison, so a weak one never fits. */
    private static int seen(Appointment appointment, @Nullable String ifMatch) {
        if (ifMatch == null) {
            throw new Refused(428, "if-match-missing", "appointment.api.version")
                    .at(HttpHeaders.IF_MATCH, "", "appointment.api.version.allowed");
        }
        boolean same = ifMatch.strip().equals("*")
                || List.of(ifMatch.split("\\s*,\\s*")).contains(AppointmentAnswers.tag(appointment));
        return same ? appointment.version() : -1;
    }
}
