package org.earslot.booking.web;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.AskedPlace;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;

/** A place as a form or a program sends it, as text. */
public record PlaceForm(
        @Nullable String practitioner,
        @Nullable String room,
        @Nullable String start,
        @Nullable String slotMinutes) {

    private static final int LONGEST_SLOT = 180;

    public static PlaceForm of(Map<String, String> typed) {
        return new PlaceForm(
                typed.get("practitioner"), typed.get("room"), typed.get("start"), typed.get("slotMinutes"));
    }

    /** The place, or every problem in {@code reading}. */
    public Optional<AskedPlace> place(Reading reading) {
        Optional<UUID> who =
                reading.required("practitioner", reading.id("practitioner", practitioner), "page.allowed.id.given");
        Optional<UUID> where = reading.required("room", reading.id("room", room), "page.allowed.id.given");
        Optional<LocalDateTime> when = start(reading, start);
        Optional<Integer> length = reading.requiredWhole("slotMinutes", slotMinutes, 1, LONGEST_SLOT);
        return who.isPresent() && where.isPresent() && when.isPresent() && length.isPresent()
                ? Optional.of(new AskedPlace(who.get(), where.get(), when.get(), length.get()))
                : Optional.empty();
    }

    /** A date and time of the years that a diary may hold. */
    public static Optional<LocalDateTime> start(Reading reading, @Nullable String given) {
        return dateTime(reading, "start", given);
    }

    public static Optional<LocalDateTime> dateTime(Reading reading, String field, @Nullable String given) {

        Optional<LocalDateTime> read = Optional.empty();
        if (given != null && !given.isBlank()) {
            try {
                read = Optional.of(LocalDateTime.parse(given.strip())).filter(time -> Days.holds(time.toLocalDate()));
            } catch (DateTimeParseException e) {
                read = Optional.empty();
            }
        }
        if (read.isEmpty()) {
            reading.refuse(field, given, "booking.allowed.dateTime", Days.FIRST.toString(), Days.LAST.toString());
        }
        return read;
    }

    /** The days a diary may be asked for. */
    public static final class Days {

        public static final LocalDate FIRST = LocalDate.of(2000, 1, 1);
        public static final LocalDate LAST = LocalDate.of(2099, 12, 31);

        private Days() {}

        public static boolean holds(LocalDate date) {
            return !date.isBefore(FIRST) && !date.isAfter(LAST);
        }

        /** Refuses a date in an address that no diary holds. */
        public static void check(LocalDate date) {
            if (!holds(date)) {
                throw Refused.invalid("date", date.toString(), "page.allowed.day", FIRST.toString(), LAST.toString());
            }
        }
    }
}
