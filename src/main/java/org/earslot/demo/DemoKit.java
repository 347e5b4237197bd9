package org.earslot.demo;

import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.kit.InstrumentKind;
import org.earslot.clinic.kit.InstrumentKinds;
import org.earslot.clinic.kit.Kit;
import org.earslot.clinic.kit.SetRounds;
import org.earslot.ear.Method;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/** The demo clinic's kit, its sets fresh from this morning's cycle. */
@Component
@Profile("demo")
class DemoKit {

    private final Kit kit;
    private final InstrumentKinds kinds;
    private final SetRounds rounds;

    DemoKit(Kit kit, InstrumentKinds kinds, SetRounds rounds) {
        this.kit = kit;
        this.kinds = kinds;
        this.rounds = rounds;
    }

    /** @param rooms ids by name */
    void setUp(ClinicId clinicId, SeedClinic seed, Map<String, UUID> rooms) {
        seed.units()
                .forEach(unit -> kit.unit(
                        clinicId,
                        Optional.empty(),
                        unit.name(),
                        Optional.ofNullable(unit.method()).flatMap(Method::of).orElse(null),
                        Optional.ofNullable(unit.room()).map(rooms::get).orElse(null),
                        true));
        seed.instrumentSets()
                .forEach(sets -> kit.kind(
                        clinicId,
                        sets.name(),
                        Method.of(sets.method()).orElseThrow(),
                        sets.count(),
                        sets.cycleMinutes(),
                        sets.testMinutes()));
        seed.stock().forEach(item -> kit.item(clinicId, item.name(), item.least()));
        for (SeedClinic.SeedSets sets : seed.instrumentSets()) {
            UUID kind = kinds.findByClinicIdAndName(clinicId, sets.name())
                    .map(InstrumentKind::id)
                    .orElseThrow();
            rounds.startCycle(clinicId, kind, "1");
            rounds.endCycle(clinicId, kind, true, "demo");
        }
    }
}
