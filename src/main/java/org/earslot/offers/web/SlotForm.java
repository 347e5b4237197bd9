package org.earslot.offers.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.offers.SlotWish;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.page.Problem;
import org.earslot.page.Reading;
import org.jspecify.annotations.Nullable;

/** What was typed to narrow the search for a slot, as text. */
record SlotForm(Map<String, String> typed) {

    private static final int SHOWN = 12;

    /** The days of the week as the form names them, Monday first. */
    static final List<String> WEEKDAYS = Arrays.stream(DayOfWeek.values())
            .map(day -> day.name().toLowerCase(Locale.ROOT))
            .toList();

    SlotForm {
        typed = Map.copyOf(typed);
    }

    /** For templates: what was typed in that field. */
    public @Nullable String get(String field) {
        return typed.get(field);
    }

    /** The wish, or every problem in {@code reading}. */
    Optional<SlotWish> wish(@Nullable UUID referralId, @Nullable UUID appointmentId, LocalDate today, Reading reading) {
        LocalDate last = today.plusYears(1);
        Optional<LocalDate> from = reading.date("from", get("from"), today, last);
        Optional<LocalDate> to = reading.date("to", get("to"), today, last);
        Optional<UUID> practitioner = reading.id("practitioner", get("practitioner"));
        PartOfDay part = reading.word("part", get("part"), SlotForm::partOfDay, List.of("morning", "afternoon"))
                .orElse(PartOfDay.ANY);
        Optional<DayOfWeek> weekday = reading.word("weekday", get("weekday"), SlotForm::weekday, WEEKDAYS);
        if (from.isPresent() && to.isPresent() && to.get().isBefore(from.get())) {
            reading.refuse("to", get("to"), "offers.allowed.to", from.get().toString());
        }
        return reading.clean()
                ? Optional.of(new SlotWish(
                        referralId,
                        appointmentId,
                        from.orElse(null),
                        to.orElse(null),
                        practitioner.orElse(null),
                        part,
                        SHOWN,
                        weekday.orElse(null)))
                : Optional.empty();
    }

    Map<String, Problem> problems(Reading reading) {
        return reading.byField();
    }

    /** Whether the best come first; else they come by date. */
    boolean bestFirst() {
        return "best".equals(get("order"));
    }

    private static Optional<DayOfWeek> weekday(String word) {
        return Arrays.stream(DayOfWeek.values())
                .filter(day -> WEEKDAYS.get(day.ordinal()).equals(word))
                .findFirst();
    }

    private static Optional<PartOfDay> partOfDay(String word) {
        return switch (word) {
            case "morning" -> Optional.of(PartOfDay.MORNING);
            case "afternoon" -> Optional.of(PartOfDay.AFTERNOON);
            default -> Optional.empty();
        };
    }
}
