package org.earslot.booking.web;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.format.DateTimeParseException;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.AskedPlace;
import org.earslot.page.Reading;
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
        Optional<UUID> who = reading.required("practitioner", reading.id("practitioner", practitioner), "an id");
        Optional<UUID> where = reading.required("room", reading.id("room", room), "an id");
        Optional<LocalDateTime> when = start(reading, start);
        Optional<Integer> length = reading.required(
                "slotMinutes",
                reading.whole("slotMinutes", slotMinutes, 1, LONGEST_SLOT),
                "a whole number from 1 to " + LONGEST_SLOT);
        return who.isPresent() && where.isPresent() && when.isPresent() && length.isPresent()
                ? Optional.of(new AskedPlace(who.get(), where.get(), when.get(), length.get()))
                : Optional.empty();
    }

    /** A date and time of the years that a diary may hold. */
    public static Optional<LocalDateTime> start(Reading reading, @Nullable String given) {
        return dateTime(reading, "start", given);
    }

    public static Optional<LocalDateTime> dateTime(Reading reading, String field, @Nullable String given) {
        String allowed =
                "a date and time of the clinic from " + Days.FIRST + " to " + Days.LAST + ", as in 2026-04-14T10:20";
        Optional<LocalDateTime> read = Optional.empty();
        if (given != null && !given.isBlank()) {
            try {
                read = Optional.of(LocalDateTime.parse(given.strip())).filter(time -> Days.holds(time.toLocalDate()));
            } catch (DateTimeParseException e) {
                read = Optional.empty();
            }
        }
        if (read.isEmpty()) {
            reading.problem(field, given, allowed, "give " + allowed);
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
    }
}
