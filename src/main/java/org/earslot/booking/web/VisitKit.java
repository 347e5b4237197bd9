package org.earslot.booking.web;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.kit.InstrumentKind;
import org.earslot.clinic.kit.InstrumentKinds;
import org.earslot.clinic.kit.InstrumentSet;
import org.earslot.clinic.kit.InstrumentSets;
import org.earslot.clinic.kit.SetUses;
import org.earslot.page.Messages;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The instrument sets of one visit: those used, with their cycle, and the clean ones that could be laid out. */
@Component
public class VisitKit {

    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final SetUses uses;
    private final Messages messages;

    VisitKit(InstrumentKinds kinds, InstrumentSets sets, SetUses uses, Messages messages) {
        this.kinds = kinds;
        this.sets = sets;
        this.uses = uses;
        this.messages = messages;
    }

    public void show(Model model, Appointment appointment) {
        ClinicId clinic = appointment.clinicId();
        Map<UUID, InstrumentKind> known = kinds.findByClinicIdOrderByName(clinic).stream()
                .collect(Collectors.toMap(InstrumentKind::id, Function.identity()));
        Map<UUID, InstrumentSet> all = sets.findByClinicIdOrderByNumber(clinic).stream()
                .collect(Collectors.toMap(InstrumentSet::id, Function.identity(), (a, b) -> a, LinkedHashMap::new));
        Map<UUID, String> clean = new LinkedHashMap<>();
        all.values().stream()
                .filter(set -> set.state().equals(InstrumentSet.State.CLEAN.code()))
                .filter(set -> known.get(set.kindId()).method()
                        == appointment.planned().method())
                .forEach(set -> clean.put(set.id(), name(set, known)));
        List<String> used = uses.findByClinicIdAndAppointmentIdOrderByAt(clinic, appointment.id()).stream()
                .map(use -> name(all.get(use.setId()), known)
                        + use.cycleNumber()
                                .map(cycle -> ", " + messages.say("kit.kit.cycle", cycle))
                                .orElse(""))
                .toList();
        model.addAttribute("cleanSets", clean);
        model.addAttribute("setUses", used);
    }

    private String name(InstrumentSet set, Map<UUID, InstrumentKind> known) {
        return known.get(set.kindId()).name() + ", " + messages.say("kit.kit.set", set.number());
    }
}
