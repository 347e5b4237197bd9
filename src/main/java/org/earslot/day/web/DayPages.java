package org.earslot.day.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRequest;
import org.earslot.booking.BookingRequest.OfOtherVisit;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.LateCards;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.earslot.page.Reason;
import org.earslot.patient.Patient;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The day: lanes, table, and what is booked straight into it. */
@Controller
class DayPages {

    private static final List<String> OTHER_VIEWS = List.of("sheet", "now", "week");

    private final DayPage page;
    private final Booking booking;
    private final DayForms forms;
    private final LateCards cards;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    DayPages(
            DayPage page,
            Booking booking,
            DayForms forms,
            LateCards cards,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.page = page;
        this.booking = booking;
        this.forms = forms;
        this.cards = cards;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    @GetMapping("/day")
    String today() {
        return "redirect:/day/" + clock.today(current.id());
    }

    /** @param late the appointment of one who is late, or has said to be: what each way costs is shown on top */
    @GetMapping("/day/{date}")
    String show(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam @Nullable UUID late,
            @RequestHeader(name = "HX-Request", defaultValue = "false") boolean again,
            Model model) {
        if (late != null) {
            cards.ofLate(current.id(), late).ifPresent(card -> model.addAttribute("late", card));
        }
        return again ? page.showAgain(model, date) : page.show(model, date);
    }

    /**
     * The day as a page, so that a date can be picked without scripts.
     *
     *
     * @param view sheet, now or week for those; else the day
     */
    @GetMapping(value = "/day", params = "date")
    String pick(
            @RequestParam @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam(defaultValue = "") String view) {
        return "redirect:/day/" + date + (OTHER_VIEWS.contains(view) ? "/" + view : "");
    }

    @PostMapping("/day/{date}/other-visit")
    String otherVisit(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Patient> patient = forms.patient(reading, "otherPatient", typed);
        Optional<UUID> kind =
                reading.required("otherKind", reading.id("otherKind", typed.get("otherKind")), "day.allowed.kind");
        Optional<ClinicSession> session = forms.session(reading, "otherSession", date, typed);
        var start =
                reading.required("otherStart", reading.time("otherStart", typed.get("otherStart")), "day.allowed.time");
        if (patient.isEmpty() || kind.isEmpty() || session.isEmpty() || start.isEmpty()) {
            return again(model, date, typed, reading.byField(), response);
        }
        AskedPlace place =
                new AskedPlace(session.get().practitionerId(), session.get().roomId(), date.atTime(start.get()), 1);
        return booked(
                new OfOtherVisit(patient.get().id(), kind.get(), place),
                "booking.notice.booked",
                date,
                typed,
                "other",
                model,
                redirect,
                response);
    }

    private String booked(
            BookingRequest request,
            String notice,
            LocalDate date,
            Map<String, String> typed,
            String form,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        BookingResult result = booking.book(current.id(), request, current.who());
        if (result instanceof NotDone no) {
            model.addAttribute("refused", messages.say(no.refusals()));
            model.addAttribute("refusedAt", form);
            response.setStatus(Reason.status(no.refusals()));
            return page.show(model, date, typed, Map.of());
        }
        redirect.addFlashAttribute("notice", messages.say(notice));
        return "redirect:/day/" + date;
    }

    private String again(
            Model model,
            LocalDate date,
            Map<String, String> typed,
            Map<String, Problem> problems,
            HttpServletResponse response) {
        response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        return page.show(model, date, new HashMap<>(typed), problems);
    }
}
