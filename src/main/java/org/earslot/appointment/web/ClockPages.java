package org.earslot.appointment.web;

import static org.earslot.booking.BookingRefusalCode.CHANGED_MEANWHILE;

import jakarta.servlet.http.HttpServletResponse;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.appointment.web.PressAnswers.Press;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.ArrivalQuestions;
import org.earslot.day.CallInGate;
import org.earslot.day.ClockEvent;
import org.earslot.day.Findings;
import org.earslot.day.RunningDay;
import org.earslot.day.web.FindingsForm;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.page.FormVersion;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.visit.Visit;
import org.earslot.visit.VisitTimes;
import org.jspecify.annotations.Nullable;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What happens to an appointment on its day, one press each; findings and outcome. */
@Controller
@RequestMapping("/appointments/{id}")
class ClockPages {

    private static final String BY_THE_CHAIR = "hasAnyRole('PRACTITIONER', 'LEAD')";

    private final RunningDay running;
    private final CallInGate gate;
    private final ArrivalQuestions questions;
    private final AppointmentPage page;
    private final PressAnswers answers;
    private final CurrentClinic current;
    private final ClinicClock clock;

    ClockPages(
            RunningDay running,
            CallInGate gate,
            ArrivalQuestions questions,
            AppointmentPage page,
            PressAnswers answers,
            CurrentClinic current,
            ClinicClock clock) {
        this.running = running;
        this.gate = gate;
        this.questions = questions;
        this.page = page;
        this.answers = answers;
        this.current = current;
        this.clock = clock;
    }

    @PostMapping("/check-in")
    String checkIn(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            @RequestParam @Nullable String nothingNew,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Press press = new Press(id, back, model, redirect, response);
        return nothingNew == null
                ? happened(ClockEvent.ARRIVED, press)
                : answers.answered(
                        questions.checkInNothingNew(current.id(), id, current.who()), "booking.notice.arrived", press);
    }

    @PostMapping("/call-in")
    @PreAuthorize(BY_THE_CHAIR)
    String callIn(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Press press = new Press(id, back, model, redirect, response);
        Optional<BookingRefusal> refusal =
                gate.refuses(current.id(), id, current.practitionerId().orElse(null), current.who());
        return refusal.isPresent()
                ? answers.answered(BookingResult.refused(refusal.get()), "", press)
                : happened(ClockEvent.CALLED_IN, press);
    }

    @PostMapping("/finish")
    @PreAuthorize(BY_THE_CHAIR)
    String finish(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return happened(ClockEvent.FINISHED, new Press(id, back, model, redirect, response));
    }

    @PostMapping("/room-ready")
    @PreAuthorize(BY_THE_CHAIR)
    String roomReady(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return happened(ClockEvent.ROOM_READY, new Press(id, back, model, redirect, response));
    }

    @PostMapping("/undo-check-in")
    String undoCheckIn(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return answers.answered(
                running.undoCheckIn(current.id(), id),
                "booking.notice.pressUndone",
                new Press(id, back, model, redirect, response));
    }

    @PostMapping("/undo-press")
    @PreAuthorize(BY_THE_CHAIR)
    String undoPress(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return answers.answered(
                running.undoPress(current.id(), id),
                "booking.notice.pressUndone",
                new Press(id, back, model, redirect, response));
    }

    @PostMapping("/did-not-attend")
    String didNotAttend(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return answers.answered(
                running.didNotAttend(current.id(), id, null),
                "booking.notice.didNotAttend",
                new Press(id, back, model, redirect, response));
    }

    @PostMapping("/late-not-seen")
    String lateNotSeen(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return answers.answered(
                running.lateNotSeen(current.id(), id, null),
                "booking.notice.lateNotSeen",
                new Press(id, back, model, redirect, response));
    }

    @PostMapping("/times")
    @PreAuthorize(BY_THE_CHAIR)
    String correct(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Appointment appointment = page.appointment(id);
        Reading reading = new Reading();
        Optional<Integer> version = reading.required(
                "version",
                reading.whole("version", typed.get("version"), 0, Integer.MAX_VALUE),
                "appointment.allowed.version");
        VisitTimes before = appointment.times();
        LocalDate date = appointment.place().date();
        VisitTimes times = new VisitTimes(
                corrected(reading, "arrived", typed, date, before.arrived()),
                corrected(reading, "calledIn", typed, date, before.calledIn()),
                corrected(reading, "finished", typed, date, before.finished()),
                corrected(reading, "roomReady", typed, date, before.roomReady()));
        if (!reading.clean() || version.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.show(model, id, typed, reading.byField());
        }
        Press press = new Press(id, null, model, redirect, response);
        return answers.answered(
                running.correct(current.id(), id, version.get(), times), "booking.notice.corrected", press, typed);
    }

    @PostMapping("/findings")
    @PreAuthorize(BY_THE_CHAIR)
    String findings(
            @PathVariable UUID id,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Ears planned = page.appointment(id).planned().ears();
        Reading reading = new Reading();
        List<Ear> ears = Ears.BOTH.each().stream()
                .filter(ear -> (planned != null && planned.include(ear))
                        || typed.keySet().stream().anyMatch(field -> field.startsWith(ear.code() + ".")))
                .toList();
        Findings findings = new FindingsForm(typed, reading).read(ears);
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.show(model, id, typed, reading.byField());
        }
        String seen = typed.getOrDefault(FormVersion.FIELD, "");
        BookingResult result = running.recordFindings(current.id(), id, seen, findings, current.who());
        if (result instanceof NotDone no && no.isFirst(CHANGED_MEANWHILE)) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            return page.showChanged(model, id, typed);
        }
        return answers.answered(
                result, "booking.notice.findings", new Press(id, typed.get("back"), model, redirect, response), typed);
    }

    /** One tap for one ear: the planned method, clear, no adverse event. Nothing is recorded as found. */
    @PostMapping("/findings/{ear}/as-expected")
    @PreAuthorize(BY_THE_CHAIR)
    String asExpected(
            @PathVariable UUID id,
            @PathVariable("ear") String which,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Ear ear = Ear.of(which).orElseThrow(() -> Refused.notFound("ear"));
        Appointment appointment = page.appointment(id);
        Optional<Visit> visit = page.visit(appointment);
        Findings findings =
                Findings.of(visit.map(known -> Map.of(ear, known.recorded(ear).asExpected(known.methodPlanned())))
                        .orElse(Map.of()));
        return answers.answered(
                running.recordFindings(current.id(), id, findings, current.who()),
                "booking.notice.findings",
                new Press(id, back, model, redirect, response));
    }

    private String happened(ClockEvent event, Press press) {
        return answers.answered(
                running.record(current.id(), press.id(), event), "booking.notice." + event.code(), press);
    }

    /** The time typed; the exact one known already where its minute was left as it was. */
    private @Nullable Instant corrected(
            Reading reading, String field, Map<String, String> typed, LocalDate date, @Nullable Instant before) {
        Optional<LocalTime> time = reading.time(field, typed.get(field));
        if (time.isEmpty()) {
            return null;
        }
        ClinicId clinic = current.id();
        boolean same = before != null
                && clock.local(clinic, before)
                        .toLocalTime()
                        .truncatedTo(ChronoUnit.MINUTES)
                        .equals(time.get());
        return same ? before : clock.at(clinic, date, time.get());
    }
}
