package org.earslot.diary.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.clinic.CurrentClinic;
import org.earslot.diary.Booking;
import org.earslot.diary.BookingRefusal;
import org.earslot.diary.BookingResult;
import org.earslot.diary.BookingResult.NotDone;
import org.earslot.diary.LateCard.Turn;
import org.earslot.diary.LateCards;
import org.earslot.diary.LateCards.WalkIn;
import org.earslot.diary.Turns;
import org.earslot.diary.web.DayForms.FitIn;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Fits a patient in: first whom it delays by how much, then done. On another day than today at once. */
@Controller
@RequestMapping("/day/{date}/fit-in")
class FitInPages {

    private final DayPage page;
    private final DayForms forms;
    private final Booking booking;
    private final LateCards cards;
    private final Turns turns;
    private final CurrentClinic current;
    private final DiaryWords words;

    FitInPages(
            DayPage page,
            DayForms forms,
            Booking booking,
            LateCards cards,
            Turns turns,
            CurrentClinic current,
            DiaryWords words) {
        this.page = page;
        this.forms = forms;
        this.booking = booking;
        this.cards = cards;
        this.turns = turns;
        this.current = current;
        this.words = words;
    }

    /** What is asked and how it is answered. */
    private record Asked(
            LocalDate date,
            Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {}

    /** Books it without a card, as on a day still to come. */
    @PostMapping
    String book(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Asked asked = new Asked(date, typed, model, redirect, response);
        Reading reading = new Reading();
        Optional<FitIn> fitIn = forms.fitIn(reading, date, typed);
        if (fitIn.isEmpty()) {
            return again(asked, reading);
        }
        return answered(booking.book(current.id(), fitIn.get().wish(), current.who()), asked, "redirect:/day/" + date);
    }

    /** The first press: see now, after the next, or rebook, with the minutes each costs each person. */
    @PostMapping("/card")
    String card(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Asked asked = new Asked(date, typed, model, redirect, response);
        Reading reading = new Reading();
        Optional<FitIn> fitIn = forms.fitIn(reading, date, typed);
        if (fitIn.isEmpty()) {
            return again(asked, reading);
        }
        WalkIn walkIn =
                cards.ofWalkIn(current.id(), fitIn.get().wish(), fitIn.get().session());
        if (walkIn.card().isEmpty()) {
            return walkIn.refusals().isEmpty()
                    ? book(date, typed, model, redirect, response)
                    : refused(walkIn.refusals(), asked);
        }
        model.addAttribute("card", walkIn.card().get());
        model.addAttribute("typed", typed);
        model.addAttribute("date", date);
        model.addAttribute("reason", fitIn.get().wish().reason());
        model.addAttribute("practitionerId", fitIn.get().session().practitionerId());
        return "diary/fit-in";
    }

    /** The second press. */
    @PostMapping("/seat")
    String seat(
            @PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date,
            @RequestParam(defaultValue = "") String turn,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Asked asked = new Asked(date, typed, model, redirect, response);
        Turn given = Turn.of(turn).orElseThrow(() -> Refused.notFound("turn"));
        Reading reading = new Reading();
        Optional<FitIn> fitIn = forms.fitIn(reading, date, typed);
        if (fitIn.isEmpty()) {
            return again(asked, reading);
        }
        if (given == Turn.REBOOK) {
            return fitIn.get().wish().referralId() == null
                    ? "redirect:/referrals"
                    : "redirect:/slots?referral=" + fitIn.get().wish().referralId();
        }
        return answered(
                turns.fitIn(current.id(), fitIn.get().wish(), given, current.who()),
                asked,
                "redirect:/day/" + date + "/now?practitioner="
                        + fitIn.get().session().practitionerId());
    }

    private String answered(BookingResult result, Asked asked, String done) {
        if (result instanceof NotDone no) {
            return refused(no.refusals(), asked);
        }
        asked.redirect().addFlashAttribute("notice", words.say("diary.notice.fittedIn"));
        return done;
    }

    private String refused(List<BookingRefusal> refusals, Asked asked) {
        asked.model().addAttribute("refused", refusals.stream().map(words::say).toList());
        asked.model().addAttribute("refusedForm", "fitIn");
        asked.response().setStatus(words.status(refusals));
        return page.show(asked.model(), asked.date(), asked.typed(), Map.of());
    }

    private String again(Asked asked, Reading reading) {
        asked.response().setStatus(HttpServletResponse.SC_BAD_REQUEST);
        return page.show(asked.model(), asked.date(), asked.typed(), reading.byField());
    }
}
