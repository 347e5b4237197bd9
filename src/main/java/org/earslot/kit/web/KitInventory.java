package org.earslot.kit.web;

import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.kit.InstrumentKinds;
import org.earslot.clinic.kit.InstrumentSet;
import org.earslot.clinic.kit.InstrumentSets;
import org.earslot.clinic.kit.KitUnits;
import org.earslot.clinic.kit.StockItems;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** What a page shows of everything the clinic has: portable equipment, kinds of instruments with their sets, stock, rooms. */
@Component
public class KitInventory {

    private final KitUnits units;
    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final StockItems stock;
    private final Rooms rooms;
    private final CurrentClinic current;

    KitInventory(
            KitUnits units,
            InstrumentKinds kinds,
            InstrumentSets sets,
            StockItems stock,
            Rooms rooms,
            CurrentClinic current) {
        this.units = units;
        this.kinds = kinds;
        this.sets = sets;
        this.stock = stock;
        this.rooms = rooms;
        this.current = current;
    }

    /** Puts the lists into the model, each by name. */
    public void show(Model model) {
        ClinicId clinic = current.id();
        model.addAttribute("units", units.findByClinicIdOrderByName(clinic));
        model.addAttribute("kinds", kinds.findByClinicIdOrderByName(clinic));
        model.addAttribute(
                "setsOf",
                sets.findByClinicIdOrderByNumber(clinic).stream()
                        .collect(Collectors.groupingBy(InstrumentSet::kindId)));
        model.addAttribute("stock", stock.findByClinicIdOrderByName(clinic));
        model.addAttribute("rooms", rooms.findByClinicIdOrderByName(clinic));
    }
}
