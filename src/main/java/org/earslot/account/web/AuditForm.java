package org.earslot.account.web;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.List;
import org.earslot.account.AuditTrail;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;

/** Which lines of the audit trail to show, as typed. */
record AuditForm(
        @Nullable String day,
        @Nullable String who,
        @Nullable String kind,
        @Nullable String subject) {

    AuditForm {
        day = day == null ? "" : day.strip();
        who = who == null ? "" : who.strip();
        kind = kind == null ? "" : kind.strip();
        subject = subject == null ? "" : subject.strip();
    }

    /** @throws Refused if the day is none that a clinic ever had */
    AuditTrail.Choice choice(Messages messages) {
        try {
            LocalDate date = day.isEmpty() ? null : LocalDate.parse(day);
            if (date == null || (date.getYear() >= 1970 && date.getYear() < 9999)) {
                return new AuditTrail.Choice(date, who, kind, subject);
            }
        } catch (DateTimeParseException e) {
            // Refused below, like a day that no clinic ever had.
        }
        throw Refused.invalid(List.of(Checks.problem(messages, "day", day, "day")));
    }
}
