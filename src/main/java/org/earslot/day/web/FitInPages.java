package org.earslot.day.web;

import jakarta.servlet.http.HttpServletResponse;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingResult;
import org.earslot.booking.BookingResult.NotDone;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.FitIns;
import org.earslot.day.LateCard;
import org.earslot.day.LateCard.Turn;
import org.earslot.day.LateCards;
import org.earslot.day.LateCards.WalkIn;
import org.earslot.day.web.DayForms.FitIn;
import org.earslot.ear.Caution;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Reason;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.referral.RedFlags;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Fits a patient in: first whom it delays by how much and what is asked, then done. */
@Controller
@RequestMapping("/day/{date}/fit-in")
class FitInPages {

    private final DayPage page;
    private final DayForms forms;
    private final FitIns fitIns;
    private final LateCards cards;
    private final RedFlags redFlags;
    private final CurrentClinic current;
    private final Messages messages;

    FitInPages(
            DayPage page,
            DayForms forms,
            FitIns fitIns,
            LateCards cards,
            RedFlags redFlags,
            CurrentClinic current,
            Messages messages) {
        this.page = page;
        this.forms = forms;
        this.fitIns = fitIns;
        this.cards = cards;
        this.redFlags = redFlags;
        this.current = current;
        this.messages = messages;
    }

    /** What is asked and how it is answered. */
    private record Asked(
            LocalDate date,
            Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {}

    /** Without a card, as on a day still to come: the first press asks, the second books. */
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
            return who(asked, "/fit-in").orElseGet(() -> again(asked, reading));
        }
        return typed.containsKey("asked")
                ? done(asked, fitIn.get(), null, "redirect:/day/" + date)
                : ask(asked, fitIn.get(), new Reading());
    }

    /** The first press: see now, after the next, or rebook, with the minutes each costs each person; and what to ask. */
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
        return fitIn.isEmpty()
                ? who(asked, "/fit-in/card").orElseGet(() -> again(asked, reading))
                : ask(asked, fitIn.get(), new Reading());
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
            return rebook(asked, fitIn.get());
        }
        String list = "/now?practitioner=" + fitIn.get().session().practitionerId();
        return done(
                asked,
                fitIn.get(),
                given,
                "redirect:/day/" + date + ("day".equals(typed.get("fitInBack")) ? "" : list));
    }

    /**
     * Several may be meant: who of them.
     *
     *
     * @param to where the answer goes
     */
    private Optional<String> who(Asked asked, String to) {
        List<Patient> choices = forms.choices(asked.typed());
        if (choices.isEmpty()) {
            return Optional.empty();
        }
        asked.model().addAttribute("hits", choices);
        asked.model().addAttribute("typed", asked.typed());
        asked.model().addAttribute("date", asked.date());
        asked.model().addAttribute("action", "/day/" + asked.date() + to);
        return Optional.of("day/fit-in-who");
    }

    /** Another day: the referral keeps the reason and what was answered so far. */
    private String rebook(Asked asked, FitIn fitIn) {
        Reading reading = new Reading();
        DayForms.Asked sofar = forms.answeredSoFar(reading, asked.typed());
        if (!reading.clean()) {
            asked.response().setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return ask(asked, fitIn, reading);
        }
        DayForms.Asked given = forms.pain(fitIn.wish().reason()) ? sofar.withPain() : sofar;
        UUID referral = fitIns.rebook(current.id(), fitIn.wish(), given.redFlags(), given.cautions(), current.who())
                .orElseThrow(() -> Refused.notFound("patient"));
        asked.redirect().addFlashAttribute("notice", messages.say("day.fitIn.rebook"));
        return "redirect:/slots?referral=" + referral;
    }

    /** Shows whom it delays, where a list is running, and asks red flags and cautions. */
    private String ask(Asked asked, FitIn fitIn, Reading problems) {
        WalkIn walkIn = cards.ofWalkIn(current.id(), fitIn.wish(), fitIn.session());
        if (!walkIn.refusals().isEmpty()) {
            return refused(walkIn.refusals(), asked);
        }
        UUID patient = fitIn.patient().id();
        Map<String, String> typed = new HashMap<>(asked.typed());
        typed.put("fitInPatient", fitIn.patient().localNumber());
        Model model = asked.model();
        model.addAttribute("patient", fitIn.patient());
        model.addAttribute("card", walkIn.card().orElse(null));
        model.addAttribute("titleOf", walkIn.card().map(LateCard::initials).orElse(null));
        model.addAttribute("typed", typed);
        model.addAttribute("problems", problems.byField());
        model.addAttribute("date", asked.date());
        model.addAttribute("reason", fitIn.wish().reason());
        model.addAttribute("pain", forms.pain(fitIn.wish().reason()));
        model.addAttribute("practitionerId", fitIn.session().practitionerId());
        model.addAttribute("flagTexts", redFlags.texts(current.id()));
        model.addAttribute("known", fitIns.known(current.id(), patient));
        model.addAttribute("unknown", fitIns.unknown(current.id(), patient));
        model.addAttribute("cautions", Caution.values());
        return "day/fit-in";
    }

    private String done(Asked asked, FitIn fitIn, @Nullable Turn turn, String done) {
        Reading reading = new Reading();
        Optional<DayForms.Asked> answers = forms.answers(reading, asked.typed());
        if (answers.isEmpty()) {
            asked.response().setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return ask(asked, fitIn, reading);
        }
        DayForms.Asked given = forms.pain(fitIn.wish().reason()) ? answers.get().withPain() : answers.get();
        return answered(
                fitIn,
                fitIns.fitIn(current.id(), fitIn.wish(), given.redFlags(), given.cautions(), turn, current.who()),
                asked,
                done);
    }

    private String answered(FitIn fitIn, BookingResult result, Asked asked, String done) {
        if (result instanceof NotDone no) {
            forms.openReferralOf(fitIn.patient().id())
                    .ifPresent(kept -> asked.model().addAttribute("keptReferral", kept.id()));
            return refused(no.refusals(), asked);
        }
        asked.redirect().addFlashAttribute("notice", messages.say("booking.notice.fittedIn"));
        return done;
    }

    private String refused(List<BookingRefusal> refusals, Asked asked) {
        asked.model().addAttribute("refused", messages.say(refusals));
        asked.model().addAttribute("refusedAt", "fitIn");
        asked.response().setStatus(Reason.status(refusals));
        return page.show(asked.model(), asked.date(), asked.typed(), Map.of());
    }

    private String again(Asked asked, Reading reading) {
        asked.response().setStatus(HttpServletResponse.SC_BAD_REQUEST);
        return page.show(asked.model(), asked.date(), asked.typed(), reading.byField());
    }
}
