package org.earslot.kit.web;

import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.kit.CycleLookBack;
import org.earslot.kit.CycleLookBack.Found;
import org.earslot.kit.CycleLookBack.Treated;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Who was treated with the sets of a sterilisation cycle. Each name shown is in the audit trail. */
@Controller
class LookBackPages {

    private static final int LONGEST_NUMBER = 40;

    private final CycleLookBack lookBack;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    LookBackPages(CycleLookBack lookBack, CurrentClinic current, ClinicClock clock, ApplicationEventPublisher events) {
        this.lookBack = lookBack;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    /** @param cycle the number of the cycle; without one only the question is shown */
    @GetMapping("/kit/cycles")
    String show(@RequestParam(defaultValue = "") String cycle, Model model) {
        Reading reading = new Reading();
        Optional<String> number = reading.text("cycle", cycle, LONGEST_NUMBER);
        if (!reading.clean()) {
            throw Refused.invalid(reading.problems());
        }
        model.addAttribute("latest", lookBack.latest(current.id()));
        model.addAttribute("cycle", number.orElse(""));
        model.addAttribute("zone", clock.zone(current.id()));
        number.ifPresent(one -> {
            Found found = lookBack.of(current.id(), one);
            model.addAttribute("found", found);
            List<UUID> named = found.treated().stream()
                    .map(Treated::patient)
                    .filter(Objects::nonNull)
                    .map(Patient::id)
                    .distinct()
                    .toList();
            events.publishEvent(Audited.viewed(current.id(), "cycle look-back", named));
        });
        return "kit/look-back";
    }
}
