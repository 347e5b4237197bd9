package org.earslot.estimate.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.ear.Answer;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.VisitPlan;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** What if: the estimate of a visit without a patient, and the panel that other forms show beside them. */
@Controller
@RequestMapping("/estimate")
class EstimatePages {

    private static final Map<String, Word[]> WORDS = Map.of(
            "Answer", Answer.values(),
            "Canal", Canal.values(),
            "Caution", Caution.values(),
            "Depth", Depth.values(),
            "Ear", Ear.values(),
            "Ears", Ears.values(),
            "Method", Method.values(),
            "Occlusion", Occlusion.values(),
            "Wax", Wax.values());

    private final Estimates estimates;
    private final Practitioners practitioners;
    private final CurrentClinic clinic;

    EstimatePages(Estimates estimates, Practitioners practitioners, CurrentClinic clinic) {
        this.estimates = estimates;
        this.practitioners = practitioners;
        this.clinic = clinic;
    }

    @ModelAttribute("words")
    Map<String, Word[]> words() {
        return WORDS;
    }

    @GetMapping
    String show(@RequestParam MultiValueMap<String, String> given, Model model, HttpServletResponse response) {
        EstimateForm form = new EstimateForm(given);
        List<Practitioner> active = active();
        model.addAttribute("form", form);
        model.addAttribute("practitioners", active);
        EstimateReading reading = new EstimateReading(form, active);
        Optional<VisitPlan> plan = form.blank() ? Optional.empty() : reading.plan();
        answer(plan, reading, model, response);
        return "estimate/estimate";
    }

    /** The panel alone, for a form that is being filled in; a form without method and ears gets a hint. */
    @PostMapping("/panel")
    String panel(@RequestParam MultiValueMap<String, String> given, Model model, HttpServletResponse response) {
        EstimateForm form = new EstimateForm(given);
        EstimateReading reading = new EstimateReading(form, active());
        Optional<VisitPlan> plan = reading.enough() ? reading.plan() : Optional.empty();
        answer(plan, reading, model, response);
        return "estimate/result :: result";
    }

    private void answer(Optional<VisitPlan> plan, EstimateReading reading, Model model, HttpServletResponse response) {
        plan.ifPresent(visit -> model.addAttribute("estimate", estimates.estimate(clinic.id(), visit)));
        model.addAttribute("problems", reading.problems());
        if (!reading.problems().isEmpty()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        }
    }

    private List<Practitioner> active() {
        return practitioners.findByClinicIdOrderByName(clinic.id()).stream()
                .filter(Practitioner::active)
                .toList();
    }
}
