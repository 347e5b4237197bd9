package org.earslot.plan.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.SessionTemplates;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.policy.ListPolicy;
import org.earslot.clinic.policy.ListTerms;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.plan.PlannableSessions;
import org.earslot.plan.SessionPlans;
import org.earslot.plan.SessionPlans.Part;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The plan: the trade-off of a weekly session, the terms by which lists are set, and a session planned. */
@Controller
@RequestMapping("/plan")
class PlanPages {

    private final PlanView view;
    private final SessionPlans plans;
    private final ListPolicy policy;
    private final SessionTemplates templates;
    private final PlannableSessions sessions;
    private final CurrentClinic current;
    private final Messages messages;

    PlanPages(
            PlanView view,
            SessionPlans plans,
            ListPolicy policy,
            SessionTemplates templates,
            PlannableSessions sessions,
            CurrentClinic current,
            Messages messages) {
        this.view = view;
        this.plans = plans;
        this.policy = policy;
        this.templates = templates;
        this.sessions = sessions;
        this.current = current;
        this.messages = messages;
    }

    @GetMapping
    String show(
            @RequestParam @Nullable UUID session,
            @RequestParam Map<String, String> typed,
            Model model,
            HttpServletResponse response) {
        return view.page(model, session, typed, response);
    }

    /** Puts the terms in force whose effect was seen. */
    @PostMapping("/terms")
    String apply(
            @RequestParam @Nullable UUID session,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        Optional<ListTerms> terms = new PlanForm(typed, policy.of(current.id())).terms(reading);
        if (terms.isEmpty() || !typed.containsKey("accepted")) {
            return view.page(model, session, typed, response);
        }
        policy.apply(current.id(), terms.get(), current.who());
        return back(redirect, session, "plan.applied");
    }

    @PostMapping("/terms/{id}/undo")
    String undo(@PathVariable UUID id, @RequestParam @Nullable UUID session, RedirectAttributes redirect) {
        boolean undone = policy.undo(current.id(), id);
        return back(redirect, session, undone ? "plan.undone" : "plan.notUndone");
    }

    /** Puts the plan in force as the template of the session. */
    @PostMapping("/template")
    String template(
            @RequestParam @Nullable UUID session,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        Reading reading = new Reading();
        PlanForm form = new PlanForm(typed, policy.of(current.id()));
        Optional<ListTerms> terms = form.terms(reading);
        List<Part> mix = form.mix(reading);
        Optional<WeeklySession> chosen = sessions.find(current.id(), session);
        if (!reading.clean() || terms.isEmpty() || chosen.isEmpty()) {
            return view.page(model, session, with(typed, "plan", "yes"), response);
        }
        SessionPlans.Found found =
                plans.of(current.id(), chosen.get(), mix, terms.get()).found();
        if (found == null || found.lines().isEmpty()) {
            return view.page(model, session, with(typed, "plan", "yes"), response);
        }
        templates.apply(current.id(), chosen.get().id(), found.places(), current.who());
        return back(redirect, chosen.get().id(), "plan.templateApplied");
    }

    @PostMapping("/template/{id}/withdraw")
    String withdraw(@PathVariable UUID id, @RequestParam @Nullable UUID session, RedirectAttributes redirect) {
        if (!templates.withdraw(current.id(), id)) {
            throw Refused.notFound("template");
        }
        return back(redirect, session, "plan.templateWithdrawn");
    }

    private static Map<String, String> with(Map<String, String> typed, String field, String value) {
        Map<String, String> more = new HashMap<>(typed);
        more.put(field, value);
        return more;
    }

    private String back(RedirectAttributes redirect, @Nullable UUID session, String notice) {
        redirect.addFlashAttribute("notice", messages.say(notice));
        return "redirect:/plan" + (session == null ? "" : "?session=" + session);
    }
}
