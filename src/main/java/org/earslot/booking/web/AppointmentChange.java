package org.earslot.booking.web;

import java.util.List;
import java.util.Optional;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.CancelledBy;
import org.earslot.ear.Word;
import org.earslot.page.Reading;
import org.jspecify.annotations.Nullable;

/**
 * What a program asks to change of an appointment: either where it stands in the diary (session, start, slotMinutes) or
 * its status.
 *
 * @param shorter whether the new slot may be shorter than any that is offered
 * @param beyondLimit whether the session may end late more often than the clinic accepts
 */
public record AppointmentChange(
        @Nullable String session,
        @Nullable String start,
        @Nullable String slotMinutes,
        @Nullable Boolean shorter,
        @Nullable Boolean beyondLimit,
        @Nullable String status,
        @Nullable Boolean confirmed,
        @Nullable String cancelledBy,
        @Nullable String reason) {

    /** The status words a program may set; the others follow from the clock. */
    private static final List<AppointmentStatus> SETTABLE = List.of(
            AppointmentStatus.BOOKED,
            AppointmentStatus.ARRIVED,
            AppointmentStatus.CHECKED_IN,
            AppointmentStatus.CANCELLED,
            AppointmentStatus.NOSHOW,
            AppointmentStatus.ENTERED_IN_ERROR);

    public boolean moves() {
        return session != null || start != null || slotMinutes != null;
    }

    /** The new status, or a problem in {@code reading}; "confirmed" alone is "booked" once more. */
    public Optional<AppointmentStatus> newStatus(Reading reading) {
        if (status == null && Boolean.TRUE.equals(confirmed)) {
            return Optional.of(AppointmentStatus.BOOKED);
        }
        List<String> allowed = SETTABLE.stream().map(AppointmentStatus::code).toList();
        return reading.required(
                "status",
                reading.word(
                        "status", status, code -> AppointmentStatus.of(code).filter(SETTABLE::contains), allowed),
                "booking.allowed.change",
                String.join(", ", allowed));
    }

    public Optional<CancelledBy> by(Reading reading) {
        return reading.required(
                "cancelledBy",
                reading.word("cancelledBy", cancelledBy, CancelledBy::of, Word.codes(CancelledBy.values())),
                "booking.allowed.cancelledBy");
    }
}
