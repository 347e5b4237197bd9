package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.UUID;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.LateCard.Turn;
import org.earslot.day.Turns;
import org.earslot.day.WaitNotices;
import org.earslot.day.web.DayPage;
import org.earslot.page.Messages;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Presses that change how a list runs: whose turn it is, told of the wait. */
@Controller
@RequestMapping("/appointments/{id}")
class TurnPages {

    private final Turns turns;
    private final WaitNotices notices;
    private final AppointmentPage page;
    private final DayPage dayPage;
    private final CurrentClinic current;
    private final Messages messages;

    TurnPages(
            Turns turns,
            WaitNotices notices,
            AppointmentPage page,
            DayPage dayPage,
            CurrentClinic current,
            Messages messages) {
        this.turns = turns;
        this.notices = notices;
        this.page = page;
        this.dayPage = dayPage;
        this.current = current;
        this.messages = messages;
    }

    /** What answers a press. */
    private record Answer(
            UUID id, @Nullable String back, Model model, RedirectAttributes redirect, HttpServletResponse response) {}

    @PostMapping("/turn")
    String turn(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String turn,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Turn given = Turn.of(turn).filter(each -> each != Turn.REBOOK).orElseThrow(() -> Refused.notFound("turn"));
        return answered(
                turns.give(current.id(), id, given),
                "booking.notice.turn." + given.code(),
                new Answer(id, back, model, redirect, response));
    }

    @PostMapping("/told")
    String told(
            @PathVariable UUID id,
            @RequestParam @Nullable String back,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return answered(
                notices.told(current.id(), id), "booking.notice.told", new Answer(id, back, model, redirect, response));
    }

    private String answered(BookingResult result, String notice, Answer answer) {
        if (result instanceof NotDone no) {
            if (Reason.status(no.refusals()) == HttpServletResponse.SC_NOT_FOUND) {
                throw Refused.of(no.refusals());
            }
            answer.response().setStatus(Reason.status(no.refusals()));
            answer.model().addAttribute("refused", messages.say(no.refusals()));
            return dayPage.show(
                    answer.model(), page.appointment(answer.id()).place().date());
        }
        answer.redirect().addFlashAttribute("notice", messages.say(notice));
        BookedPlace place = page.appointment(answer.id()).place();
        String list = "now".equals(answer.back()) ? "/now?practitioner=" + place.practitionerId() : "";
        return "redirect:/day/" + place.date() + list;
    }
}
