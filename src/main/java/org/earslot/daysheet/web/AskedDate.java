package org.earslot.daysheet.web;

import java.time.DateTimeException;
import java.time.LocalDate;
import org.earslot.page.Refused;
import org.springframework.stereotype.Component;

/** Reads the date in an address. */
@Component
class AskedDate {

    private static final LocalDate FIRST = LocalDate.of(2000, 1, 1);
    private static final LocalDate LAST = LocalDate.of(2099, 12, 31);

    /** The date written as {@code given}, or a refusal that says which dates there are. */
    LocalDate read(String given) {
        try {
            LocalDate date = LocalDate.parse(given);
            if (!date.isBefore(FIRST) && !date.isAfter(LAST)) {
                return date;
            }
        } catch (DateTimeException notADate) {
            // Refused below, like a date out of range.
        }
        throw Refused.invalid("date", given, "daysheet.date.allowed", FIRST.toString(), LAST.toString());
    }
}
