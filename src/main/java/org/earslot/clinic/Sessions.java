package org.earslot.clinic;

import java.time.LocalDate;
import java.util.List;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The sessions really held: the weekly pattern with its exceptions applied. */
@Service
public class Sessions {

    private final WeeklySessions weekly;
    private final SessionExceptions exceptions;

    Sessions(WeeklySessions weekly, SessionExceptions exceptions) {
        this.weekly = weekly;
        this.exceptions = exceptions;
    }

    /** The sessions of one day, by their starts. */
    public List<ClinicSession> on(ClinicId clinicId, LocalDate date) {
        return between(clinicId, date, date);
    }

    /** The sessions from {@code first} to {@code last}, both included, by date and start. */
    @Transactional(readOnly = true)
    public List<ClinicSession> between(ClinicId clinicId, LocalDate first, LocalDate last) {
        return pattern(clinicId, first, last).between(first, last);
    }

    /** What the sessions from {@code first} to {@code last}, both included, follow from. */
    @Transactional(readOnly = true)
    public SessionPattern pattern(ClinicId clinicId, LocalDate first, LocalDate last) {
        return new SessionPattern(
                weekly.findByClinicId(clinicId), exceptions.findByClinicIdAndDateBetween(clinicId, first, last));
    }
}
