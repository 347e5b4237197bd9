package org.earslot.review.web;

import java.time.DateTimeException;
import java.time.YearMonth;
import org.earslot.clinic.ClinicId;
import org.earslot.page.Refused;
import org.earslot.review.Reviews;
import org.springframework.stereotype.Component;

/** Reads the month in an address. */
@Component
class AskedMonth {

    private static final YearMonth FIRST = YearMonth.of(2000, 1);

    private final Reviews reviews;

    AskedMonth(Reviews reviews) {
        this.reviews = reviews;
    }

    /** The month written as {@code given}, from January 2000 to the clinic's month now, or a refusal. */
    YearMonth read(String given, ClinicId clinicId) {
        YearMonth now = reviews.now(clinicId);
        try {
            YearMonth month = YearMonth.parse(given);
            if (!month.isBefore(FIRST) && !month.isAfter(now)) {
                return month;
            }
        } catch (DateTimeException notAMonth) {
            // Refused below, like a month out of range.
        }
        throw Refused.invalid("month", given, "review.month.allowed", FIRST, now);
    }
}
