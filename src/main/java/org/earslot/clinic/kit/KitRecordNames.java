package org.earslot.clinic.kit;

import java.util.HashMap;
import java.util.Map;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.RecordNames;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The names of units, kinds of set with their sets, and items of stock. */
@Component
class KitRecordNames implements RecordNames {

    private final KitUnits units;
    private final InstrumentKinds kinds;
    private final InstrumentSets sets;
    private final StockItems stock;

    KitRecordNames(KitUnits units, InstrumentKinds kinds, InstrumentSets sets, StockItems stock) {
        this.units = units;
        this.kinds = kinds;
        this.sets = sets;
        this.stock = stock;
    }

    @Override
    @Transactional(readOnly = true)
    public Map<String, String> of(ClinicId clinicId) {
        Map<String, String> names = new HashMap<>();
        units.findByClinicIdOrderByName(clinicId)
                .forEach(one -> names.put(one.id().toString(), one.name()));
        stock.findByClinicIdOrderByName(clinicId)
                .forEach(one -> names.put(one.id().toString(), one.name()));
        kinds.findByClinicIdOrderByName(clinicId)
                .forEach(one -> names.put(one.id().toString(), one.name()));
        sets.findByClinicIdOrderByNumber(clinicId)
                .forEach(one -> names.put(
                        one.id().toString(), names.getOrDefault(one.kindId().toString(), "") + " " + one.number()));
        return names;
    }
}
