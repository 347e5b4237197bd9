package org.earslot.offers.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.web.PlaceForm;
import org.earslot.offers.Move;
import org.earslot.page.Reading;
import org.springframework.util.MultiValueMap;

/** A change of a day as its form sends it: one value of each field for each visit that is moved. */
record MovesForm(MultiValueMap<String, String> typed) {

    private static final int MOST = 60;

    /** The patients ticked as asked, as they were sent. */
    Set<String> asked() {
        return new HashSet<>(typed.getOrDefault("asked", List.of()));
    }

    /** The shifts, or every problem in {@code reading}. */
    List<Move> shifts(Reading reading) {
        List<String> ids = typed.getOrDefault("appointment", List.of());
        if (ids.isEmpty() || ids.size() > MOST) {
            reading.refuse("appointment", "", "offers.allowed.moves", MOST);
            return List.of();
        }
        List<Move> shifts = new ArrayList<>();
        Set<UUID> seen = new HashSet<>();
        for (int i = 0; i < ids.size(); i++) {
            shift(i, reading).filter(shift -> seen.add(shift.appointmentId())).ifPresent(shifts::add);
        }
        return shifts;
    }

    private Optional<Move> shift(int i, Reading reading) {
        Map<String, String> each = new HashMap<>();
        typed.forEach((field, values) -> each.put(field, i < values.size() ? values.get(i) : ""));
        Optional<UUID> id = reading.required(
                "appointment", reading.id("appointment", each.get("appointment")), "page.allowed.id.given");
        Optional<Integer> version = reading.required(
                "version",
                reading.whole("version", each.get("version"), 0, Integer.MAX_VALUE),
                "offers.allowed.version");
        Optional<AskedPlace> place = PlaceForm.of(each).place(reading);
        return id.isPresent() && version.isPresent() && place.isPresent()
                ? Optional.of(new Move(
                        id.get(),
                        version.get(),
                        place.get(),
                        asked().contains(id.get().toString())))
                : Optional.empty();
    }
}
