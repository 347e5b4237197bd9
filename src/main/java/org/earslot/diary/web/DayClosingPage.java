package org.earslot.diary.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.earslot.clinic.CurrentClinic;
import org.earslot.diary.BookingRefusal;
import org.earslot.diary.DayClosing;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Closes a day. */
@Controller
class DayClosingPage {

    private final DayClosing closing;
    private final DayPage page;
    private final CurrentClinic current;
    private final DiaryWords words;

    DayClosingPage(DayClosing closing, DayPage page, CurrentClinic current, DiaryWords words) {
        this.closing = closing;
        this.page = page;
        this.current = current;
        this.words = words;
    }

    @PostMapping("/day/{date}/close")
    @PreAuthorize("hasAnyRole('PRACTITIONER', 'LEAD')")
    String close(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Optional<BookingRefusal> refusal = closing.close(current.id(), date);
        if (refusal.isPresent()) {
            response.setStatus(words.status(List.of(refusal.get())));
            model.addAttribute("refused", List.of(words.say(refusal.get())));
            return page.show(model, date);
        }
        redirect.addFlashAttribute("notice", words.say("diary.notice.closed"));
        return "redirect:/day/" + date;
    }
}
