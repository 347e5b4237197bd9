package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.UUID;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.VisitChecks;
import org.earslot.day.web.DayPage;
import org.earslot.ear.VisitCheck;
import org.earslot.page.Messages;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** One press ticks what was checked in the room; a second press removes the tick. */
@Controller
class VisitCheckPages {

    private final VisitChecks checks;
    private final DayPage dayPage;
    private final AppointmentPage page;
    private final CurrentClinic current;
    private final Messages messages;

    VisitCheckPages(
            VisitChecks checks, DayPage dayPage, AppointmentPage page, CurrentClinic current, Messages messages) {
        this.checks = checks;
        this.dayPage = dayPage;
        this.page = page;
        this.current = current;
        this.messages = messages;
    }

    /** @param done {@code no} removes the tick */
    @PostMapping("/appointments/{id}/checks/{check}")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    String tick(
            @PathVariable UUID id,
            @PathVariable("check") String which,
            @RequestParam(defaultValue = "yes") String done,
            Model model,
            HttpServletResponse response) {
        VisitCheck check = VisitCheck.of(which).orElseThrow(() -> Refused.notFound("check"));
        BookedPlace place = page.appointment(id).place();
        BookingResult result = checks.tick(current.id(), id, check, !"no".equals(done));
        if (result instanceof NotDone no) {
            response.setStatus(Reason.status(no.refusals()));
            model.addAttribute("refused", messages.say(no.refusals()));
            return dayPage.show(model, place.date());
        }
        return "redirect:/day/" + place.date() + "/now?practitioner=" + place.practitionerId();
    }
}
