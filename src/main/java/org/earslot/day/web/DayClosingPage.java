package org.earslot.day.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.booking.BookingRefusal;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.DayClosing;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Reason;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Closes a day, and opens it again. */
@Controller
class DayClosingPage {

    private final DayClosing closing;
    private final DayPage page;
    private final CurrentClinic current;
    private final Messages messages;

    DayClosingPage(DayClosing closing, DayPage page, CurrentClinic current, Messages messages) {
        this.closing = closing;
        this.page = page;
        this.current = current;
        this.messages = messages;
    }

    @PostMapping("/day/{date}/close")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    String close(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Optional<Integer> confirmed = new Reading().whole("openVisits", typed.get("openVisits"), 0, Integer.MAX_VALUE);
        return after(
                closing.close(current.id(), date, confirmed),
                "booking.notice.closed",
                date,
                Map.of("closing", "refused"),
                model,
                redirect,
                response);
    }

    @PostMapping("/day/{date}/reopen")
    @PreAuthorize("hasRole('LEAD')")
    String reopen(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        return after(
                closing.reopen(current.id(), date, typed.getOrDefault("reopenReason", "")),
                "booking.notice.reopened",
                date,
                typed,
                model,
                redirect,
                response);
    }

    private String after(
            Optional<BookingRefusal> refusal,
            String notice,
            LocalDate date,
            Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        if (refusal.isPresent()) {
            response.setStatus(Reason.status(List.of(refusal.get())));
            model.addAttribute("refused", List.of(messages.say(refusal.get())));
            model.addAttribute("refusedAt", "close");
            return page.show(model, date, typed, Map.of());
        }
        redirect.addFlashAttribute("notice", messages.say(notice));
        return "redirect:/day/" + date;
    }
}
