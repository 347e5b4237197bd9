package org.earslot.offers.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Word;
import org.earslot.offers.DayFix;
import org.earslot.offers.Move;
import org.earslot.offers.Rescheduling;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Fixes of a day: looked at, made, undone. */
@Controller
@RequestMapping("/day/{date}/fix")
class FixPages {

    private final FixPage page;
    private final Rescheduling rescheduling;
    private final CurrentClinic current;
    private final Messages messages;

    FixPages(FixPage page, Rescheduling rescheduling, CurrentClinic current, Messages messages) {
        this.page = page;
        this.rescheduling = rescheduling;
        this.current = current;
        this.messages = messages;
    }

    @GetMapping
    String show(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam @Nullable String fix,
            @RequestParam @Nullable String session,
            @RequestParam @Nullable UUID appointment,
            Model model) {
        return page.show(model, date, new FixPage.Wanted(fix(fix), blankToNull(session), appointment), Set.of());
    }

    /** A part of the day sheet: the fixes of a session, each with its effect. */
    @GetMapping("/effects")
    String effects(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date, @RequestParam String session, Model model) {
        model.addAttribute("date", date);
        model.addAttribute("sessionKey", session);
        model.addAttribute("effects", page.effects(date, session));
        return "offers/effects";
    }

    @PostMapping
    String make(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam MultiValueMap<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        DayFix fix = fix(typed.getFirst("fix"));
        MovesForm form = new MovesForm(typed);
        List<Move> shifts = form.shifts(reading);
        Optional<UUID> chosen = reading.id("chosen", typed.getFirst("chosen"));
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        BookingResult result = rescheduling.apply(current.id(), date, fix, shifts, current.who());
        if (result instanceof NotDone no) {
            int status = Reason.status(no.refusals());
            if (status == HttpServletResponse.SC_NOT_FOUND) {
                throw Refused.of(no.refusals());
            }
            response.setStatus(status);
            model.addAttribute("refused", messages.say(no.refusals()));
            FixPage.Wanted wanted =
                    new FixPage.Wanted(fix, blankToNull(typed.getFirst("session")), chosen.orElse(null));
            return page.show(model, date, wanted, form.asked());
        }
        redirect.addFlashAttribute("notice", messages.say("offers.fix.done." + fix.code(), shifts.size()));
        return "redirect:/day/" + date + "/sheet";
    }

    @PostMapping("/{id}/undo")
    String undo(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @PathVariable UUID id,
            @RequestParam @Nullable String asked,
            RedirectAttributes redirect) {
        BookingResult result = rescheduling.undo(current.id(), id, asked != null, current.who());
        if (result instanceof NotDone no) {
            redirect.addFlashAttribute("refused", messages.say(no.refusals()));
        } else {
            redirect.addFlashAttribute("notice", messages.say("offers.fix.undone"));
        }
        return "redirect:/day/" + date + "/sheet";
    }

    private static DayFix fix(@Nullable String given) {
        Reading reading = new Reading();
        return reading.required(
                        "fix",
                        reading.word("fix", given, DayFix::of, Word.codes(DayFix.values())),
                        "offers.allowed.fix")
                .orElseThrow(() -> Refused.invalid(reading.problems()));
    }

    private static @Nullable String blankToNull(@Nullable String text) {
        return text == null || text.isBlank() ? null : text;
    }
}
