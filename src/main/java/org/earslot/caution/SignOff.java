package org.earslot.caution;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * A practitioner's word that a cell of the caution table holds in this clinic.
 *
 * @param name the practitioner; "-" where it was not recorded
 * @param role in the practitioner's own words
 * @param on the clinic's day of the signature; null where it was not recorded
 * @param reviewBy the day by which the cell is to be read again; null: it is due
 */
public record SignOff(
        String name,
        String role,
        @Nullable LocalDate on,
        @Nullable LocalDate reviewBy) {

    /** Whether the cell is to be read again on {@code today}. */
    public boolean due(LocalDate today) {
        return reviewBy == null || reviewBy.isBefore(today);
    }
}
