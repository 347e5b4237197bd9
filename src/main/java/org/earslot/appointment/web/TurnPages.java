package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.appointment.web.PressAnswers.Press;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.LateCard.Turn;
import org.earslot.day.RunningDay;
import org.earslot.day.Turns;
import org.earslot.day.WaitNotices;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Presses that change how a list runs: late, whose turn it is, told of the wait. */
@Controller
@RequestMapping("/appointments/{id}")
class TurnPages {

    /** By how many minutes somebody may say to be late. */
    private static final List<Integer> LATE = List.of(10, 20, 30);

    private final Turns turns;
    private final RunningDay running;
    private final WaitNotices notices;
    private final AppointmentPage page;
    private final PressAnswers answers;
    private final CurrentClinic current;

    TurnPages(
            Turns turns,
            RunningDay running,
            WaitNotices notices,
            AppointmentPage page,
            PressAnswers answers,
            CurrentClinic current) {
        this.turns = turns;
        this.running = running;
        this.notices = notices;
        this.page = page;
        this.answers = answers;
        this.current = current;
    }

    @PostMapping("/turn")
    String turn(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String turn,
            @RequestParam(defaultValue = "day") String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Turn given = Turn.of(turn).filter(each -> each != Turn.REBOOK).orElseThrow(() -> Refused.notFound("turn"));
        return answers.answered(
                turns.give(current.id(), id, given),
                "booking.notice.turn." + given.code(),
                new Press(id, back, model, redirect, response));
    }

    /** Leads to the day, with what to do with the patient on top. */
    @PostMapping("/will-be-late")
    String willBeLate(
            @PathVariable UUID id,
            @RequestParam int minutes,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        if (!LATE.contains(minutes)) {
            throw Refused.notFound("minutes");
        }
        BookingResult result = running.willBeLate(current.id(), id, minutes);
        return result instanceof NotDone no
                ? answers.refused(no, new Press(id, "day", model, redirect, response), Map.of())
                : "redirect:/day/" + page.appointment(id).place().date() + "?late=" + id + "#late";
    }

    @PostMapping("/told")
    String told(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "day") String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return answers.answered(
                notices.told(current.id(), id), "booking.notice.told", new Press(id, back, model, redirect, response));
    }
}
