package org.earslot.plan.web;

import jakarta.servlet.http.HttpServletResponse;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.SessionTemplates;
import org.earslot.clinic.WeeklySession;
import org.earslot.clinic.policy.ListPolicy;
import org.earslot.clinic.policy.ListTerms;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.flow.plan.TradeOff;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.plan.AtAcceptedOvertime;
import org.earslot.plan.PlannableSessions;
import org.earslot.plan.SessionPlans;
import org.earslot.plan.SessionPlans.Part;
import org.earslot.plan.TradeOffs;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;
import org.springframework.web.util.UriComponentsBuilder;
import org.springframework.web.util.UriUtils;

/** Puts the page of the plan together: a weekly session, its trade-off, and a plan if one is asked for. */
@Component
class PlanView {

    private final TradeOffs tradeOffs;
    private final SessionPlans plans;
    private final ListPolicy policy;
    private final SessionTemplates templates;
    private final PlannableSessions sessions;
    private final CurrentClinic current;
    private final ClinicClock clock;

    PlanView(
            TradeOffs tradeOffs,
            SessionPlans plans,
            ListPolicy policy,
            SessionTemplates templates,
            PlannableSessions sessions,
            CurrentClinic current,
            ClinicClock clock) {
        this.tradeOffs = tradeOffs;
        this.plans = plans;
        this.policy = policy;
        this.templates = templates;
        this.sessions = sessions;
        this.current = current;
        this.clock = clock;
    }

    /** What one way of setting slots gives, at the terms in force and at those asked about. */
    public record Effect(
            String code,
            @Nullable AtAcceptedOvertime now,
            @Nullable AtAcceptedOvertime then) {}

    /**
     * Fills the page, with the problems of what was typed.
     *
     * @param asked the session, or null for the first
     */
    String page(Model model, @Nullable UUID asked, Map<String, String> typed, HttpServletResponse response) {
        Optional<WeeklySession> chosen = sessions.find(current.id(), asked);
        if (asked != null && chosen.isEmpty()) {
            throw Refused.notFound("weekly-session");
        }
        ListTerms inForce = policy.of(current.id());
        PlanForm form = new PlanForm(typed, inForce);
        Reading reading = new Reading();
        Optional<ListTerms> terms = form.terms(reading);
        List<Part> mix = form.asksForPlan() ? form.mix(reading) : List.of();
        model.addAttribute("sessions", sessions.of(current.id()));
        model.addAttribute("practitionerById", sessions.practitioners(current.id()));
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
}
