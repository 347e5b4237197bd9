package org.earslot.daysheet;

import java.time.LocalDate;
import java.util.List;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedules;
import org.springframework.stereotype.Component;

/** Gathers what all sheets of a day are made from. */
@Component
class Mornings {

    private final DaySchedules diaries;
    private final TrayRules trays;
    private final Practitioners practitioners;
    private final Policies policies;
    private final KitWarnings kit;

    Mornings(DaySchedules diaries, TrayRules trays, Practitioners practitioners, Policies policies, KitWarnings kit) {
        this.diaries = diaries;
        this.trays = trays;
        this.practitioners = practitioners;
        this.policies = policies;
        this.kit = kit;
    }

    /** What all sheets of a day are made from. */
    record Morning(
            DaySchedule day,
            PolicyTerms policy,
            List<TrayRule> trays,
            KitWarnings.OfDay kit,
            CoverAssignments holders) {}

    Morning of(ClinicId clinicId, LocalDate date) {
        DaySchedule day = diaries.of(clinicId, date);
        return new Morning(
                day,
                policies.findById(clinicId)
                        .orElseGet(() -> Policy.starting(clinicId))
                        .terms(),
                trays.of(clinicId),
                kit.of(clinicId, date),
                CoverAssignments.of(day, practitioners.findByClinicIdOrderByName(clinicId)));
    }
}
