package org.earslot.offers;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * What a slot is looked for: a referral to book, or an appointment to move.
 *
 * @param referralId the referral; null if an appointment is to be moved
 * @param appointmentId the appointment to move; null for a new booking
 * @param from first day; null for today
 * @param to last day; null for {@link Slots#WEEKS} weeks on
 * @param practitionerId only this one; null for anyone trained in the method
 * @param partOfDay when it may begin
 * @param atMost how many offers, at least 1
 * @param weekday on which day of the week alone; null for any
 */
public record SlotWish(
        @Nullable UUID referralId,
        @Nullable UUID appointmentId,
        @Nullable LocalDate from,
        @Nullable LocalDate to,
        @Nullable UUID practitionerId,
        PartOfDay partOfDay,
        int atMost,
        @Nullable DayOfWeek weekday) {

    /** On any day of the week. */
    public SlotWish(
            @Nullable UUID referralId,
            @Nullable UUID appointmentId,
            @Nullable LocalDate from,
            @Nullable LocalDate to,
            @Nullable UUID practitionerId,
            PartOfDay partOfDay,
            int atMost) {
        this(referralId, appointmentId, from, to, practitionerId, partOfDay, atMost, null);
    }

    /** Whether it may be on that date. */
    boolean fits(LocalDate date) {
        return weekday == null || weekday == date.getDayOfWeek();
    }

    /** When a visit may begin. */
    public enum PartOfDay {
        ANY,
        MORNING,
        AFTERNOON
    }

    /** Any place that appointment could be moved to. */
    static SlotWish moving(UUID appointmentId) {
        return new SlotWish(null, appointmentId, null, null, null, PartOfDay.ANY, Slots.MOST_OFFERS);
    }

    /** Any place for that referral. */
    public static SlotWish of(UUID referralId) {
        return new SlotWish(referralId, null, null, null, null, PartOfDay.ANY, Slots.MOST_OFFERS);
    }
}
