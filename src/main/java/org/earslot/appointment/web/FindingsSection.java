package org.earslot.appointment.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.booking.Appointment;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.LocalClock;
import org.earslot.day.Findings;
import org.earslot.day.web.FindingsChanges;
import org.earslot.day.web.FindingsForm;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.page.Messages;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** What was found and done at the visit, in the form it is recorded with. */
@Component
class FindingsSection {

    private final Visits visits;
    private final Messages messages;

    FindingsSection(Visits visits, Messages messages) {
        this.visits = visits;
        this.messages = messages;
    }

    Optional<Visit> visit(Appointment appointment) {
        return appointment.visitId().flatMap(id -> visits.findByClinicIdAndId(appointment.clinicId(), id));
    }

    /** What was typed, compared with what somebody else recorded meanwhile. */
    FindingsChanges changes(Appointment appointment, Map<String, String> typed) {
        return FindingsChanges.between(
                typed, visit(appointment).map(FindingsForm::recorded).orElse(Map.of()), messages);
    }

    /** @param typed what was typed into a form that is refused */
    void show(
            Model model, Appointment appointment, Optional<Visit> visit, LocalClock times, Map<String, String> typed) {
        model.addAttribute("visit", visit.orElse(null));
        model.addAttribute("findingsVersion", Findings.version(visit));
        model.addAttribute("ears", ears(appointment, visit));
        model.addAttribute("cancelledByWords", CancelledBy.values());
        model.addAttribute("lists", FindingsForm.LISTS);
        model.addAttribute("oftenFound", EarRecord.OFTEN_FOUND);
        model.addAttribute("alsoFound", EarRecord.ALSO_FOUND);
        Map<String, String> values = new HashMap<>(FindingsForm.showing(visit, times));
        values.putAll(typed);
        model.addAttribute("values", values);
    }

    /** The ears planned first, then one that was treated as well. */
    private static List<Ear> ears(Appointment appointment, Optional<Visit> visit) {
        Ears planned = appointment.planned().ears();
        List<Ear> ears = new ArrayList<>(planned == null ? List.of() : planned.each());
        visit.ifPresent(known -> Ears.BOTH.each().stream()
                .filter(ear -> !ears.contains(ear) && !known.methods(ear).isEmpty())
                .forEach(ears::add));
        return ears;
    }
}
