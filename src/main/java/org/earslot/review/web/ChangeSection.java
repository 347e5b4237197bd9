package org.earslot.review.web;

import java.time.YearMonth;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.policy.SlotPolicy;
import org.earslot.review.Reviews;
import org.earslot.review.advice.MonthChanges;
import org.earslot.review.advice.WhatToChange;
import org.earslot.review.figures.Change;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.Scope;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** Brings what to change onto a page of the lead. */
@Component
class ChangeSection {

    /** With no more visits than these nobody waits long. */
    private static final int QUICK = 1_000;

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

    /** What to change, unless the month is so large that the page had better show it later. */
    void addTo(Model model, MonthReview review) {
        if (review.head().visits() <= QUICK) {
            add(model, review);
            return;
        }
        model.addAttribute("changeLater", true);
    }

    /** What to change, however long it takes. */
    void addTo(Model model, YearMonth month) {
        add(model, reviews.of(current.id(), month, Scope.EVERYONE));
    }

    private void add(Model model, MonthReview review) {
        YearMonth month = review.month();
        WhatToChange change = changes.after(current.id(), month);
        // What ran over then and what is to change now are two things: slots have changed since.
        model.addAttribute(
                "pastSlotsShort",
                change.advised().isEmpty() && review.head().beyondPlan().verdict() == Change.Verdict.MORE);
        model.addAttribute("pastHead", review.head());
        model.addAttribute("toChange", change);
        model.addAttribute("changeCode", ChangeForm.code(change.inForce()));
        // Older months say what was wrong then; what to do now follows from the latest.
        model.addAttribute(
                "changeApplies",
                reviews.latest(current.id(), Scope.EVERYONE)
                        .map(latest -> !month.isBefore(latest))
                        .orElse(false));
        policy.undoable(current.id()).ifPresent(last -> {
            model.addAttribute("slotChange", last);
            model.addAttribute("slotChangeAt", clock.local(current.id(), last.madeAt()));
        });
    }
}
