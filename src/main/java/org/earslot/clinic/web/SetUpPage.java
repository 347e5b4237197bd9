package org.earslot.clinic.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Set-up: who works here, where, when, and by which policy. */
@Controller
@RequestMapping("/setup")
class SetUpPage {

    private final SetUpChange change;
    private final SetUpRows rows;
    private final SetUpOverview overview;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    SetUpPage(
            SetUpChange change,
            SetUpRows rows,
            SetUpOverview overview,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.change = change;
        this.rows = rows;
        this.overview = overview;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    @GetMapping
    String show(Model model) {
        return page(model, SubmittedForm.NOTHING, List.of());
    }

    /** Every form of the page comes here: {@code section} and, for a row already there, its id. */
    @PostMapping({"/{section}", "/{section}/{id}"})
    String carryOut(
            @PathVariable String section,
            @PathVariable Optional<UUID> id,
            @RequestParam MultiValueMap<String, String> given,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        SubmittedForm typed = SubmittedForm.in(section, id.map(UUID::toString).orElse(""), given);
        Optional<List<Problem>> carriedOut = change.carryOut(typed, id, current.id(), clock.today(current.id()));
        List<Problem> problems = carriedOut.orElse(List.of());
        if (carriedOut.isEmpty() || !problems.isEmpty()) {
            response.setStatus(
                    carriedOut.isEmpty() ? HttpServletResponse.SC_CONFLICT : HttpServletResponse.SC_BAD_REQUEST);
            if (carriedOut.isEmpty()) {
                rows.find(current.id(), section, id)
                        .ifPresent(row -> model.addAttribute("changes", rows.changes(row, typed)));
            }
            return page(model, typed, problems);
        }
        redirect.addFlashAttribute("saved", section);
        redirect.addFlashAttribute("said", messages.say("clinic.notice.saved"));
        return "redirect:/setup#" + section;
    }

    private String page(Model model, SubmittedForm typed, List<Problem> problems) {
        model.addAttribute("typed", typed);
        model.addAttribute("problems", problems);
        overview.add(model, current.id(), clock.today(current.id()));
        return "clinic/setup";
    }
}
