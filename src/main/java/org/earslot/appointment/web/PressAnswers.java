package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import java.util.UUID;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.day.web.DayPage;
import org.earslot.page.Messages;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What answers a press: the page it came from with a notice of what was done, or a page that says why not. */
@Component
class PressAnswers {

    private final AppointmentPage page;
    private final DayPage dayPage;
    private final Messages messages;

    PressAnswers(AppointmentPage page, DayPage dayPage, Messages messages) {
        this.page = page;
        this.dayPage = dayPage;
        this.messages = messages;
    }

    /** @param back where the press came from: {@code day}, {@code now}, else the page of the appointment */
    record Press(
            UUID id, @Nullable String back, Model model, RedirectAttributes redirect, HttpServletResponse response) {

        boolean fromList() {
            return "now".equals(back);
        }

        boolean fromDay() {
            return fromList() || "day".equals(back);
        }
    }

    String answered(BookingResult result, String notice, Press press) {
        return answered(result, notice, press, Map.of());
    }

    /** @param typed what was typed, to be shown again beside why not */
    String answered(BookingResult result, String notice, Press press, Map<String, String> typed) {
        if (result instanceof NotDone no) {
            return refused(no, press, typed);
        }
        press.redirect().addFlashAttribute("notice", messages.say(notice));
        if (!press.fromDay()) {
            return "redirect:/appointments/" + press.id();
        }
        BookedPlace place = page.appointment(press.id()).place();
        String list = press.fromList() ? "/now?practitioner=" + place.practitionerId() : "";
        return "redirect:/day/" + place.date() + list;
    }

    String refused(NotDone no, Press press, Map<String, String> typed) {
        if (Reason.status(no.refusals()) == HttpServletResponse.SC_NOT_FOUND) {
            throw Refused.of(no.refusals());
        }
        press.response().setStatus(Reason.status(no.refusals()));
        press.model().addAttribute("refused", messages.say(no.refusals()));
        press.model().addAttribute("refusedAt", press.id().toString());
        return press.fromDay()
                ? dayPage.show(
                        press.model(), page.appointment(press.id()).place().date())
                : page.show(press.model(), press.id(), typed, Map.of());
    }
}
