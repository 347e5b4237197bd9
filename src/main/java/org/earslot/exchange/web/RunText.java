package org.earslot.exchange.web;

import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.exchange.csv.FieldError;
import org.springframework.stereotype.Component;

/** Puts what runs say into words. */
@Component
class RunText {

    private static final DateTimeFormatter WHEN = DateTimeFormatter.ofPattern("d MMM yyyy, HH:mm", Locale.UK);

    private final ClinicClock clock;
    private final CurrentClinic current;

    RunText(ClinicClock clock, CurrentClinic current) {
        this.clock = clock;
        this.current = current;
    }

    String said(FieldError fault) {
        String column = fault.column().isEmpty() ? "" : fault.column() + ": ";
        return column + fault.reason() + "; " + fault.remedy() + ".";
    }

    /** The moment as the clinic's clock showed it. */
    public String when(Instant at) {
        return WHEN.format(clock.local(current.id(), at));
    }
}
