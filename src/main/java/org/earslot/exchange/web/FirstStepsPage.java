package org.earslot.exchange.web;

import java.util.List;
import org.earslot.clinic.CurrentClinic;
import org.earslot.exchange.FirstSteps;
import org.earslot.exchange.FirstSteps.Step;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** Leads a new clinic to its first referral; the pages of a lead point here until it is made. */
@Controller("firstSteps")
@PreAuthorize("hasRole('LEAD')")
class FirstStepsPage {

    private final FirstSteps steps;
    private final CurrentClinic current;

    FirstStepsPage(FirstSteps steps, CurrentClinic current) {
        this.steps = steps;
        this.current = current;
    }

    @GetMapping("/setup/begin")
    String show(Model model) {
        List<Step> all = steps.of(current.id());
        model.addAttribute("steps", all);
        model.addAttribute(
                "next", all.stream().filter(step -> !step.done()).findFirst().orElse(null));
        return "exchange/first-steps";
    }

    /** How many steps are left. */
    public long left() {
        return steps.of(current.id()).stream().filter(step -> !step.done()).count();
    }
}
