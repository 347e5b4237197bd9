package org.earslot.appointment.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.kit.Kit;
import org.earslot.clinic.kit.SetRounds;
import org.earslot.kit.KitForecast;
import org.earslot.kit.web.KitInventory;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The kit: where each set is, the morning's count, where it will not reach. */
@Controller
class KitPages {

    private final Kit kit;
    private final KitInventory inventory;
    private final KitForecast forecast;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;
    private final SetRounds rounds;

    KitPages(
            Kit kit,
            KitInventory inventory,
            KitForecast forecast,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages,
            SetRounds rounds) {
        this.kit = kit;
        this.inventory = inventory;
        this.forecast = forecast;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
        this.rounds = rounds;
    }

    @GetMapping("/kit")
    String show(Model model) {
        return show(model, new Reading());
    }

    @PostMapping("/kit/kinds/{id}/start")
    String start(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String cycle,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<String> number = reading.required("cycle", reading.text("cycle", cycle, 40), "kit.allowed.cycle");
        if (number.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return show(model, reading);
        }
        return done(rounds.startCycle(current.id(), id, number.get()) > 0, redirect);
    }

    @PostMapping("/kit/kinds/{id}/end")
    String end(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String passed,
            @RequestParam(defaultValue = "") String saidBy,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        boolean asPassed = passed.equals("yes");
        Optional<String> who = reading.text("saidBy", saidBy, 80);
        if (asPassed && rounds.cycleRuns(current.id(), id)) {
            reading.required("saidBy", who, "kit.allowed.saidBy");
        }
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return show(model, reading);
        }
        return done(rounds.endCycle(current.id(), id, asPassed, who.orElse(null)) > 0, redirect);
    }

    @PostMapping("/kit/sets/{id}/dirty")
    String dirty(@PathVariable UUID id, RedirectAttributes redirect) {
        return done(rounds.soil(current.id(), id), redirect);
    }

    @PostMapping("/kit/stock/{id}")
    String count(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String counted,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<Integer> found = reading.requiredWhole("counted", counted, 0, 9999);
        if (found.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return show(model, reading);
        }
        return done(kit.count(current.id(), id, found.get(), current.who()), redirect);
    }

    private String show(Model model, Reading reading) {
        inventory.show(model);
        model.addAttribute("zone", clock.zone(current.id()));
        model.addAttribute("today", clock.today(current.id()));
        model.addAttribute("running", rounds.runningKinds(current.id()));
        model.addAttribute("ahead", forecast.ahead(current.id()));
        model.addAttribute("problems", reading.byField());
        return "kit/kit";
    }

    private String done(boolean done, RedirectAttributes redirect) {
        if (!done) {
            throw Refused.conflict("kit-moved-on", "appointment.refused.kitMovedOn");
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/kit";
    }
}
