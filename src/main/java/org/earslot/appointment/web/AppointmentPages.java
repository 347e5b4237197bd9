package org.earslot.appointment.web;

import static org.earslot.booking.BookingRefusalCode.BEYOND_LATE_ENDS;

import jakarta.servlet.http.HttpServletResponse;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.Done;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.web.PlaceForm;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Word;
import org.earslot.offers.OfferedBooking;
import org.earslot.offers.OfferedBooking.Anyway;
import org.earslot.offers.web.SlotPage;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One appointment: booked, shown, moved, confirmed, called off. */
@Controller
@RequestMapping("/appointments")
class AppointmentPages {

    private static final int LONGEST_REASON = 500;

    private final AppointmentPage page;
    private final SlotPage slotPage;
    private final Booking booking;
    private final OfferedBooking offered;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    AppointmentPages(
            AppointmentPage page,
            SlotPage slotPage,
            Booking booking,
            OfferedBooking offered,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.page = page;
        this.slotPage = slotPage;
        this.booking = booking;
        this.offered = offered;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    @GetMapping("/{id}")
    String show(@PathVariable UUID id, Model model) {
        return page.show(model, id);
    }

    @PostMapping
    String book(
            @RequestParam UUID referral,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        AskedPlace place = place(typed);
        BookingResult result = offered.book(current.id(), referral, place, decided(typed), current.who());
        if (result instanceof NotDone no) {
            return offerAnother(no, model, referral, null, typed, response);
        }
        return done(result, "booking.notice.booked", redirect);
    }

    @PostMapping("/{id}/move")
    String move(
            @PathVariable UUID id,
            @RequestParam int version,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Appointment before = page.appointment(id);
        var old = before.place();
        var oldStart = clock.local(current.id(), old.start());
        BookingResult result = offered.move(current.id(), id, version, place(typed), decided(typed));
        if (result instanceof NotDone no) {
            return offerAnother(no, model, null, id, typed, response);
        }
        // The way back is the same move the other way round, from the page that says it is done.
        redirect.addFlashAttribute(
                "movedFrom",
                Map.of(
                        "practitioner", old.practitionerId(),
                        "room", old.roomId(),
                        "start", oldStart,
                        "slotMinutes", old.slotMinutes()));
        return done(result, "booking.notice.moved", redirect);
    }

    @PostMapping("/{id}/cancel")
    String cancel(
            @PathVariable UUID id,
            @RequestParam int version,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<CancelledBy> by = reading.required(
                "by",
                reading.word("by", typed.get("by"), CancelledBy::of, Word.codes(CancelledBy.values())),
                "appointment.allowed.cancelledBy");
        String why = reading.text("why", typed.get("why"), LONGEST_REASON)
                .orElseGet(() -> messages.say("appointment.cancel.noReason"));
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return page.show(model, id, typed, reading.byField());
        }
        BookingResult result = booking.cancel(current.id(), id, version, by.orElseThrow(), why);
        return answered(result, id, "booking.notice.cancelled", typed, model, redirect, response);
    }

    @PostMapping("/{id}/confirm")
    String confirm(
            @PathVariable UUID id,
            @RequestParam int version,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        BookingResult result = booking.confirm(current.id(), id, version);
        return answered(result, id, "booking.notice.confirmed", Map.of(), model, redirect, response);
    }

    @PostMapping("/{id}/undo")
    String undo(
            @PathVariable UUID id,
            @RequestParam int version,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Optional<UUID> referral = page.appointment(id).referralId();
        BookingResult result = booking.undo(current.id(), id, version, current.who());
        if (result instanceof Done && referral.isPresent()) {
            redirect.addFlashAttribute("notice", messages.say("booking.notice.undone"));
            return "redirect:/slots?referral=" + referral.get();
        }
        return answered(result, id, "booking.notice.undone", Map.of(), model, redirect, response);
    }

    @PostMapping("/{id}/entered-in-error")
    String enterInError(
            @PathVariable UUID id,
            @RequestParam int version,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        BookingResult result = booking.enterInError(current.id(), id, version);
        return answered(result, id, "booking.notice.enteredInError", Map.of(), model, redirect, response);
    }

    /** The tick beside a place beyond the limit. */
    private static Anyway decided(Map<String, String> typed) {
        return Anyway.atTheDesk(typed.containsKey("allTheSame"));
    }

    private static AskedPlace place(Map<String, String> typed) {
        Reading reading = new Reading();
        Optional<AskedPlace> place = PlaceForm.of(typed).place(reading);
        return place.orElseThrow(() -> Refused.invalid(reading.problems()));
    }

    /** Says why not, and offers what is free now. */
    private String offerAnother(
            NotDone no,
            Model model,
            @Nullable UUID referral,
            @Nullable UUID appointment,
            Map<String, String> typed,
            HttpServletResponse response) {
        int status = Reason.status(no.refusals());
        if (status == HttpServletResponse.SC_NOT_FOUND) {
            throw Refused.of(no.refusals());
        }
        response.setStatus(status);
        model.addAttribute("refused", messages.say(no.refusals()));
        Map<String, String> narrowed = new HashMap<>(typed);
        if (no.only(BEYOND_LATE_ENDS)) {
            model.addAttribute("anyway", place(typed));
        }
        List.of("start", "practitioner", "room", "slotMinutes", "allTheSame").forEach(narrowed::remove);
        return slotPage.show(model, referral, appointment, narrowed);
    }

    private String answered(
            BookingResult result,
            UUID id,
            String notice,
            Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        if (result instanceof NotDone no) {
            response.setStatus(Reason.status(no.refusals()));
            model.addAttribute("refused", messages.say(no.refusals()));
            return page.show(model, id, typed, Map.of());
        }
        return done(result, notice, redirect);
    }

    private String done(BookingResult result, String notice, RedirectAttributes redirect) {
        redirect.addFlashAttribute("notice", messages.say(notice));
        return "redirect:/appointments/" + ((Done) result).appointmentId();
    }
}
