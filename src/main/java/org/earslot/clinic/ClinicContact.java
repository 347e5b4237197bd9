package org.earslot.clinic;

import org.jspecify.annotations.Nullable;

/**
 * How a clinic is reached, as its letters say it; null is not given.
 *
 * @param phone as it is dialled
 * @param address its lines, parted by line breaks
 * @param openingHours in the clinic's own words
 */
public record ClinicContact(
        @Nullable String phone,
        @Nullable String address,
        @Nullable String openingHours) {

    /** Nothing is given yet. */
    public static final ClinicContact UNKNOWN = new ClinicContact(null, null, null);
}
