package org.earslot.plan.web;

import jakarta.servlet.http.HttpServletResponse;
import java.nio.charset.StandardCharsets;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.SessionTemplates;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.WeeklySessions;
import org.earslot.clinic.policy.ListPolicy;
import org.earslot.clinic.policy.ListTerms;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.flow.plan.TradeOff;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.plan.AtAcceptedOvertime;
import org.earslot.plan.SessionPlans;
import org.earslot.plan.SessionPlans.Part;
import org.earslot.plan.TradeOffs;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import org.springframework.web.util.UriComponentsBuilder;
import org.springframework.web.util.UriUtils;

/** The plan: the trade-off of a weekly session, the terms by which lists are set, and a session planned. */
@Controller
@RequestMapping("/plan")
class PlanPages {

    private final TradeOffs tradeOffs;
    private final SessionPlans plans;
    private final ListPolicy policy;
    private final SessionTemplates templates;
    private final WeeklySessions weekly;
    private final Practitioners practitioners;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    PlanPages(
            TradeOffs tradeOffs,
            SessionPlans plans,
            ListPolicy policy,
            SessionTemplates templates,
            WeeklySessions weekly,
            Practitioners practitioners,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.tradeOffs = tradeOffs;
        this.plans = plans;
        this.policy = policy;
        this.templates = templates;
        this.weekly = weekly;
        this.practitioners = practitioners;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    /** What one way of setting slots gives, at the terms in force and at those asked about. */
    public record Effect(
            String code,
            @Nullable AtAcceptedOvertime now,
            @Nullable AtAcceptedOvertime then) {}

    @GetMapping
    String show(
            @RequestParam @Nullable UUID session,
            @RequestParam Map<String, String> typed,
            Model model,
            HttpServletResponse response) {
        return page(model, session, typed, response);
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
            return page(model, session, typed, response);
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
        Optional<WeeklySession> chosen = chosen(sessions(), session);
        if (!reading.clean() || terms.isEmpty() || chosen.isEmpty()) {
            return page(model, session, with(typed, "plan", "yes"), response);
        }
        SessionPlans.Found found =
                plans.of(current.id(), chosen.get(), mix, terms.get()).found();
        if (found == null || found.lines().isEmpty()) {
            return page(model, session, with(typed, "plan", "yes"), response);
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

    private String page(Model model, @Nullable UUID asked, Map<String, String> typed, HttpServletResponse response) {
        List<WeeklySession> sessions = sessions();
        Optional<WeeklySession> chosen = chosen(sessions, asked);
        if (asked != null && chosen.isEmpty()) {
            throw Refused.notFound("weekly session");
        }
        ListTerms inForce = policy.of(current.id());
        PlanForm form = new PlanForm(typed, inForce);
        Reading reading = new Reading();
        Optional<ListTerms> terms = form.terms(reading);
        List<Part> mix = form.asksForPlan() ? form.mix(reading) : List.of();
        model.addAttribute("sessions", sessions);
        model.addAttribute(
                "practitionerById",
                practitioners.findByClinicIdOrderByName(current.id()).stream()
                        .collect(Collectors.toMap(Practitioner::id, Function.identity())));
        model.addAttribute("chosen", chosen.orElse(null));
        model.addAttribute("form", form);
        model.addAttribute("inForce", inForce);
        model.addAttribute(
                "asked",
                terms.filter(other -> form.asksForTerms() && !other.equals(inForce))
                        .orElse(null));
        policy.undoable(current.id()).ifPresent(change -> {
            model.addAttribute("change", change);
            model.addAttribute("changedAt", clock.local(current.id(), change.madeAt()));
        });
        model.addAttribute("here", here(chosen, typed));
        model.addAttribute("methods", Method.values());
        model.addAttribute("earsChoices", List.of(Ears.RIGHT, Ears.BOTH));
        chosen.ifPresent(session -> {
            worked(model, session, inForce, terms.orElse(inForce));
            model.addAttribute(
                    "template", templates.of(current.id(), session.id()).orElse(null));
            if (reading.clean() && !mix.isEmpty()) {
                model.addAttribute("plan", plans.of(current.id(), session, mix, terms.orElse(inForce)));
            }
        });
        model.addAttribute("problems", reading.byField());
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
        }
        return "plan/plan";
    }

    private void worked(Model model, WeeklySession session, ListTerms inForce, ListTerms asked) {
        TradeOffs.Shown now = tradeOffs.of(current.id(), session, inForce.costs());
        TradeOffs.Shown then =
                asked.costs().equals(inForce.costs()) ? now : tradeOffs.of(current.id(), session, asked.costs());
        model.addAttribute("now", now);
        model.addAttribute("running", now.running() || then.running());
        model.addAttribute("done", now == then ? now.done() : now.done() + then.done());
        model.addAttribute("total", now == then ? now.total() : now.total() + then.total());
        model.addAttribute("failed", now.failed() || then.failed());
        model.addAttribute(
                "picture",
                then.worked().points().isEmpty()
                        ? null
                        : PlanPicture.of(
                                then.worked().points(), then.worked().present(), asked.acceptedOvertimeShare()));
        model.addAttribute("points", then.worked().points());
        model.addAttribute("present", then.worked().present());
        model.addAttribute(
                "effects",
                List.of(TradeOff.Policy.values()).stream()
                        .map(each -> new Effect(
                                PlanPicture.code(each),
                                now.worked()
                                        .at(each, inForce.acceptedOvertimeShare())
                                        .orElse(null),
                                then.worked()
                                        .at(each, asked.acceptedOvertimeShare())
                                        .orElse(null)))
                        .toList());
    }

    /** The address of the page as it stands, for the parts that are fetched again until all is worked out. */
    private static String here(Optional<WeeklySession> chosen, Map<String, String> typed) {
        UriComponentsBuilder address = UriComponentsBuilder.fromPath("/plan");
        chosen.ifPresent(session -> address.queryParam("session", session.id()));
        typed.forEach((field, value) -> {
            if (PlanForm.FIELDS.contains(field)) {
                address.queryParam(field, UriUtils.encode(value, StandardCharsets.UTF_8));
            }
        });
        return address.build(true).toUriString();
    }

    private List<WeeklySession> sessions() {
        return weekly.findByClinicId(current.id()).stream()
                .filter(session -> session.validTo()
                        .map(last -> !last.isBefore(clock.today(current.id())))
                        .orElse(true))
                .sorted(Comparator.comparing(WeeklySession::day)
                        .thenComparing(session -> session.span().from()))
                .toList();
    }

    private static Optional<WeeklySession> chosen(List<WeeklySession> sessions, @Nullable UUID asked) {
        return sessions.stream()
                .filter(session -> asked == null || session.id().equals(asked))
                .findFirst();
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
