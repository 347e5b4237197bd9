package org.earslot.review.web;

import org.earslot.clinic.CurrentClinic;
import org.earslot.review.Reviews;
import org.earslot.review.figures.MonthReview;
import org.earslot.review.figures.Scope;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RestController;

/** The monthly review as numbers. */
@RestController
class ReviewApi {

    private final Reviews reviews;
    private final AskedMonth months;
    private final CurrentClinic current;

    ReviewApi(Reviews reviews, AskedMonth months, CurrentClinic current) {
        this.reviews = reviews;
        this.months = months;
        this.current = current;
    }

    @GetMapping("/api/v1/reviews/{month}")
    MonthReview month(@PathVariable String month) {
        return reviews.of(current.id(), months.read(month, current.id()), Scope.EVERYONE);
    }
}
