package org.earslot.clinic;

import org.earslot.page.Reading;
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

    private static final int LONGEST_PHONE = 40;
    private static final int LONGEST_ADDRESS = 300;
    private static final int LONGEST_HOURS = 120;

    /** What was typed, or problems in {@code reading}. */
    public static ClinicContact read(
            Reading reading, @Nullable String phone, @Nullable String address, @Nullable String openingHours) {
        return new ClinicContact(
                reading.text("phone", phone, LONGEST_PHONE).orElse(null),
                reading.lines("address", address, LONGEST_ADDRESS).orElse(null),
                reading.text("openingHours", openingHours, LONGEST_HOURS).orElse(null));
    }
}
