package org.earslot.review.web;

import java.time.YearMonth;
import org.earslot.clinic.Audited;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.earslot.review.Closing;
import org.earslot.review.Reviews;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Closes a month: its figures stay as they were reported. */
@Controller
class ClosingPages {

    private final Reviews reviews;
    private final AskedMonth months;
    private final CurrentClinic current;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    ClosingPages(
            Reviews reviews,
            AskedMonth months,
            CurrentClinic current,
            Messages messages,
            ApplicationEventPublisher events) {
        this.reviews = reviews;
        this.months = months;
        this.current = current;
        this.messages = messages;
        this.events = events;
    }

    @PostMapping("/review/{month}/close")
    @PreAuthorize("hasRole('LEAD')")
    String close(@PathVariable String month, RedirectAttributes redirect) {
        YearMonth asked = months.read(month, current.id());
        Closing came = reviews.close(current.id(), asked, current.who());
        if (came == Closing.STILL_RUNNING || came == Closing.EMPTY) {
            throw Refused.conflict("month-not-closed", "review.close.refused." + came.name());
        }
        if (came == Closing.CLOSED) {
            events.publishEvent(new Audited.Entry(current.id(), "month-closed", "review", asked.toString(), null));
        }
        redirect.addFlashAttribute("notice", messages.say("review.close.done." + came.name()));
        return "redirect:/review/" + asked;
    }
}
