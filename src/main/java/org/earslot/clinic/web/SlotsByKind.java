package org.earslot.clinic.web;

import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.clinic.policy.SlotPolicy;
import org.earslot.clinic.policy.SlotTerms;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The way back from the minutes that a kind of visit is given beyond its estimate. */
@Controller
class SlotsByKind {

    private final SlotPolicy slots;
    private final CurrentClinic current;
    private final Messages messages;

    SlotsByKind(SlotPolicy slots, CurrentClinic current, Messages messages) {
        this.slots = slots;
        this.current = current;
        this.messages = messages;
    }

    /** Gives one kind its slots as estimated. */
    @PostMapping("/setup/slots")
    String asEstimated(@RequestParam(defaultValue = "") String kind, RedirectAttributes redirect) {
        SlotTerms before = slots.of(current.id());
        SlotTerms after = before.with(SlotKind.of(kind).orElseThrow(() -> Refused.notFound("visit-kind")), 0);
        boolean done = !after.equals(before) && slots.apply(current.id(), before, after, current.who());
        redirect.addFlashAttribute("saved", "slots");
        redirect.addFlashAttribute("said", messages.say(done ? "clinic.slots.done" : "clinic.slots.before"));
        return "redirect:/setup#slots";
    }
}
