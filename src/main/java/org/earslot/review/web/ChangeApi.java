package org.earslot.review.web;

import org.earslot.clinic.CurrentClinic;
import org.earslot.review.advice.MonthChanges;
import org.earslot.review.advice.WhatToChange;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RestController;

/** What to change after a month, as numbers. */
@RestController
class ChangeApi {

    private final MonthChanges changes;
    private final AskedMonth months;
    private final CurrentClinic current;

    ChangeApi(MonthChanges changes, AskedMonth months, CurrentClinic current) {
        this.changes = changes;
        this.months = months;
        this.current = current;
    }

    @GetMapping("/api/v1/reviews/{month}/change")
    WhatToChange change(@PathVariable String month) {
        return changes.after(current.id(), months.read(month, current.id()));
    }
}
