package org.earslot.daysheet.web;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.List;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.springframework.stereotype.Component;

/** Reads the date in an address. */
@Component
class AskedDate {

    private static final LocalDate FIRST = LocalDate.of(2000, 1, 1);
    private static final LocalDate LAST = LocalDate.of(2099, 12, 31);

    private final Messages messages;

    AskedDate(Messages messages) {
        this.messages = messages;
    }

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
        throw Refused.invalid(List.of(new Problem(
                "date",
                given,
                messages.say("daysheet.date.allowed", FIRST.toString(), LAST.toString()),
                messages.say("daysheet.date.remedy"))));
    }
}
