package org.earslot.aftercare.web;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.aftercare.MissedChoice;
import org.earslot.aftercare.MissedVisitChoices;
import org.earslot.aftercare.MissedVisitChoices.NotDecided;
import org.earslot.aftercare.MissedVisits;
import org.earslot.aftercare.MissedVisits.Missed;
import org.earslot.aftercare.OpenEnds;
import org.earslot.aftercare.OpenEnds.OpenEnd;
import org.earslot.clinic.Audited;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What waits for a person to decide: missed visits, and ears left not clear with nothing arranged. */
@Controller
class MissedPages {

    private static final int LONGEST_NOTE = 500;

    private final MissedVisits missed;
    private final MissedVisitChoices choices;
    private final OpenEnds openEnds;
    private final CurrentClinic current;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    MissedPages(
            MissedVisits missed,
            MissedVisitChoices choices,
            OpenEnds openEnds,
            CurrentClinic current,
            Messages messages,
            ApplicationEventPublisher events) {
        this.missed = missed;
        this.choices = choices;
        this.openEnds = openEnds;
        this.current = current;
        this.messages = messages;
        this.events = events;
    }

    @GetMapping("/referrals/missed")
    String show(Model model) {
        List<Missed> open = missed.open(current.id());
        model.addAttribute("brought", open.stream().filter(Missed::notBrought).toList());
        model.addAttribute(
                "others", open.stream().filter(one -> !one.notBrought()).toList());
        List<OpenEnd> ends = openEnds.of(current.id());
        model.addAttribute("ends", ends);
        model.addAttribute("clinician", current.practitionerId().isPresent());
        events.publishEvent(Audited.viewed(
                current.id(),
                "open decisions",
                Stream.concat(
                                open.stream().map(Missed::patient),
                                ends.stream().map(OpenEnd::patient).filter(Objects::nonNull))
                        .map(Patient::id)
                        .distinct()
                        .toList()));
        return "aftercare/missed";
    }

    /** @param id the appointment that was missed */
    @PostMapping("/referrals/missed/{id}")
    String decide(@PathVariable UUID id, @RequestParam Map<String, String> typed, RedirectAttributes redirect) {
        Reading reading = new Reading();
        Optional<MissedChoice> choice =
                reading.requiredWord("decision", typed.get("decision"), MissedChoice::of, MissedChoice.values());
        Optional<String> note = reading.text("note", typed.get("note"), LONGEST_NOTE);
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        Optional<NotDecided> refusal = choices.decide(
                current.id(),
                id,
                choice.orElseThrow(),
                note.orElse(null),
                current.practitionerId().isPresent(),
                current.who());
        if (refusal.isPresent()) {
            throw Refused.conflict(
                    "missed-not-decided",
                    "aftercare.missed.refused." + refusal.get().name());
        }
        redirect.addFlashAttribute("notice", messages.say("booking.notice.decided"));
        return "redirect:/referrals/missed";
    }
}
