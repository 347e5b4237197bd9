package org.earslot.appointment.web;

import java.util.UUID;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.kit.SetRounds;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Lays instrument sets out for an appointment. */
@Controller
class SetUsePages {

    private final SetRounds rounds;
    private final AppointmentPage page;
    private final CurrentClinic current;
    private final Messages messages;

    SetUsePages(SetRounds rounds, AppointmentPage page, CurrentClinic current, Messages messages) {
        this.rounds = rounds;
        this.page = page;
        this.current = current;
        this.messages = messages;
    }

    /** Lays a clean set out for a patient: set and cycle are kept with the appointment. */
    @PostMapping("/appointments/{id}/sets")
    String use(@PathVariable UUID id, @RequestParam(defaultValue = "") String set, RedirectAttributes redirect) {
        page.appointment(id);
        Reading reading = new Reading();
        UUID chosen = reading.required("set", reading.id("set", set), "kit.allowed.cleanSet")
                .orElseThrow(() -> Refused.invalid(reading.problems()));
        if (!rounds.use(current.id(), chosen, id, current.who())) {
            throw Refused.conflict("set-not-clean", "appointment.refused.setNotClean");
        }
        redirect.addFlashAttribute("notice", messages.say("kit.kit.used"));
        return "redirect:/appointments/" + id;
    }
}
