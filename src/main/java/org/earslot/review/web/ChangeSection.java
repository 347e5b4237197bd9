package org.earslot.review.web;

import java.time.YearMonth;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.SlotPolicy;
import org.earslot.review.MonthChanges;
import org.earslot.review.Reviews;
import org.earslot.review.WhatToChange;
import org.earslot.review.Whose;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** Brings what to change onto a page of the lead. */
@Component
class ChangeSection {

    private final MonthChanges changes;
    private final Reviews reviews;
    private final SlotPolicy policy;
    private final CurrentClinic current;
    private final ClinicClock clock;

    ChangeSection(MonthChanges changes, Reviews reviews, SlotPolicy policy, CurrentClinic current, ClinicClock clock) {
        this.changes = changes;
        this.reviews = reviews;
        this.policy = policy;
        this.current = current;
        this.clock = clock;
    }

    void addTo(Model model, YearMonth month) {
        WhatToChange change = changes.after(current.id(), month);
        model.addAttribute("toChange", change);
        model.addAttribute("changeCode", ChangeForm.code(change.inForce()));
        // Older months say what was wrong then; what to do now follows from the latest.
        model.addAttribute(
                "changeApplies",
                reviews.latest(current.id(), Whose.EVERYONE)
                        .map(latest -> !month.isBefore(latest))
                        .orElse(false));
        policy.undoable(current.id()).ifPresent(last -> {
            model.addAttribute("slotChange", last);
            model.addAttribute("slotChangeAt", clock.local(current.id(), last.madeAt()));
        });
    }
}
