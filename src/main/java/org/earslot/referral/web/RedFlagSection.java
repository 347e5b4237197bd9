package org.earslot.referral.web;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.referral.RedFlag;
import org.earslot.referral.RedFlagCase;
import org.earslot.referral.RedFlagCases;
import org.earslot.referral.RedFlagStep;
import org.earslot.referral.RedFlagText;
import org.earslot.referral.RedFlagTriage;
import org.earslot.referral.RedFlags;
import org.earslot.referral.Referral;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** Red flags on the pages of referrals: what is asked, what was raised, and what clinicians did about it. */
@Component
class RedFlagSection {

    private final RedFlags redFlags;
    private final RedFlagCases cases;
    private final RedFlagTriage triage;
    private final RedFlagClock redFlagClock;
    private final Practitioners practitioners;
    private final CurrentClinic current;
    private final ClinicClock clock;

    RedFlagSection(
            RedFlags redFlags,
            RedFlagCases cases,
            RedFlagTriage triage,
            RedFlagClock redFlagClock,
            Practitioners practitioners,
            CurrentClinic current,
            ClinicClock clock) {
        this.redFlags = redFlags;
        this.cases = cases;
        this.triage = triage;
        this.redFlagClock = redFlagClock;
        this.practitioners = practitioners;
        this.current = current;
        this.clock = clock;
    }

    List<Practitioner> clinicians() {
        return practitioners.findByClinicIdOrderByName(current.id()).stream()
                .filter(Practitioner::active)
                .toList();
    }

    /** The names of all who were ever clinicians here. */
    Map<UUID, String> clinicianNames() {
        return practitioners.findByClinicIdOrderByName(current.id()).stream()
                .collect(Collectors.toMap(Practitioner::id, Practitioner::name));
    }

    /** What is asked first, by its flag. */
    Map<String, RedFlagText> redFlagTexts() {
        return redFlags.texts(current.id()).stream()
                .collect(Collectors.toMap(
                        text -> text.flag().code(), Function.identity(), (one, other) -> one, LinkedHashMap::new));
    }

    /** What the form asks, and whom a yes goes to. */
    void addQuestions(Model model) {
        model.addAttribute("flagTexts", redFlagTexts());
        model.addAttribute("clinicians", clinicians());
    }

    /** What was raised about a referral, what is still to be asked, and each step taken. */
    void add(Model model, Referral referral) {
        ClinicId clinic = current.id();
        List<RedFlagCase> raised = cases.findByClinicIdAndReferralIdOrderByRaisedAtDesc(clinic, referral.id());
        Optional<RedFlagCase> open = raised.stream().filter(RedFlagCase::open).findFirst();
        addQuestions(model);
        model.addAttribute("clinicianNames", clinicianNames());
        model.addAttribute("raised", raised);
        model.addAttribute("openCase", open.orElse(null));
        model.addAttribute("stillToAsk", triage.stillToAsk(referral));
        model.addAttribute("notUnderstood", triage.notUnderstood(referral));
        model.addAttribute("mayDecide", current.practitionerId().isPresent());
        open.ifPresent(one -> {
            model.addAttribute("dueBy", redFlagClock.by(clinic, one));
            model.addAttribute("overdue", redFlagClock.overdue(clinic, one));
            model.addAttribute(
                    "stroke",
                    one.said().contains(RedFlag.LOSS_WITH_DROOP) || one.said().contains(RedFlag.NEW_VERTIGO));
        });
        List<RedFlagStep> steps = triage.steps(clinic, raised);
        model.addAttribute("steps", steps);
        model.addAttribute(
                "notReached",
                !steps.isEmpty() && steps.get(steps.size() - 1).what().equals(RedFlagStep.What.NOT_REACHED.code()));
        model.addAttribute("zone", clock.zone(clinic));
    }
}
