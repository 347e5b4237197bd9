package org.earslot.demo;

import java.time.ZoneId;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.account.DemoAccounts;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicContact;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Sets the demo clinic up, with its accounts. */
@Component
@Profile("demo")
class DemoSetUp {

    /** Invented; the number is of a range that is never given out (Ofcom, numbers for drama use). */
    private static final ClinicContact CONTACT =
            new ClinicContact("01632 960100", "2 Larkspindle Yard\nOverwhistle", "Monday to Friday, 9:00 to 17:00");

    private final Clinics clinics;
    private final Policies policies;
    private final DemoRoster roster;
    private final OtherVisitKinds kinds;
    private final DemoKit kit;
    private final DemoAccounts accounts;
    private final ClinicClock clock;

    DemoSetUp(
            Clinics clinics,
            Policies policies,
            DemoRoster roster,
            OtherVisitKinds kinds,
            DemoKit kit,
            DemoAccounts accounts,
            ClinicClock clock) {
        this.clinics = clinics;
        this.policies = policies;
        this.roster = roster;
        this.kinds = kinds;
        this.kit = kit;
        this.accounts = accounts;
        this.clock = clock;
    }

    /** Makes the clinic, unless there is one already. */
    @Transactional
    Optional<ClinicId> open(SeedClinic seed) {
        if (clinics.count() > 0) {
            return Optional.empty();
        }
        ClinicId clinicId = ClinicId.random();
        Clinic clinic = Clinic.ofTheDemo(clinicId, seed.name(), ZoneId.of(seed.timeZone()), clock.now());
        clinic.reachAt(CONTACT);
        clinics.save(clinic);
        Policy policy = Policy.starting(clinicId);
        policy.settle(seed.terms());
        policies.save(policy);
        Map<String, UUID> ids = roster.setUp(clinicId, seed, clock.today(clinicId));
        seed.otherVisits()
                .forEach(kind ->
                        kinds.save(new OtherVisitKind(UUID.randomUUID(), clinicId, kind.name(), kind.minutes())));
        kit.setUp(clinicId, seed, ids);
        accounts.open(clinicId);
        return Optional.of(clinicId);
    }
}
