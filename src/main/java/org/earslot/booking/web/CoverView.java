package org.earslot.booking.web;

import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Cover;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** Fills the page on which one practitioner covers another's session. */
@Component
class CoverView {

    private final Cover cover;
    private final Sessions sessions;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    CoverView(
            Cover cover,
            Sessions sessions,
            Practitioners practitioners,
            Rooms rooms,
            CurrentClinic current,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.cover = cover;
        this.sessions = sessions;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.current = current;
        this.clock = clock;
        this.events = events;
    }

    /** The page with what was asked, and the problems of what was typed. */
    String show(Map<String, String> asked, Model model, Reading reading) {
        ClinicId clinic = current.id();
        LocalDate date = date(asked, reading);
        Reading ids = new Reading();
        Optional<UUID> absent = ids.id("absent", asked.get("absent"));
        Optional<UUID> taker = ids.id("cover", asked.get("cover"));
        if (!ids.clean()) {
            throw Refused.invalid(ids.problems());
        }
        model.addAttribute("date", date);
        model.addAttribute("sessions", sessions.on(clinic, date));
        model.addAttribute(
                "practitioners",
                practitioners.findByClinicIdOrderByName(clinic).stream()
                        .collect(Collectors.toMap(
                                Practitioner::id, Function.identity(), (a, b) -> a, LinkedHashMap::new)));
        model.addAttribute(
                "roomNames",
                rooms.findByClinicIdOrderByName(clinic).stream().collect(Collectors.toMap(Room::id, Room::name)));
        model.addAttribute("typed", asked);
        model.addAttribute("problems", reading.byField());
        model.addAttribute("absent", absent.orElse(null));
        model.addAttribute("cover", taker.orElse(null));
        model.addAttribute("zone", clock.zone(clinic));
        if (absent.isPresent() && taker.isPresent()) {
            var visits = cover.visits(clinic, date, absent.get(), taker.get());
            model.addAttribute("visits", visits);
            List<UUID> named = visits.stream()
                    .flatMap(visit -> visit.appointment().patientId().stream())
                    .toList();
            events.publishEvent(Audited.viewed(clinic, "cover", named));
        }
        return "booking/cover";
    }

    /** The day asked for, from today for a year; today where none is. */
    LocalDate date(Map<String, String> asked, Reading reading) {
        LocalDate today = clock.today(current.id());
        return reading.date("date", asked.get("date"), today, today.plusYears(1))
                .orElse(today);
    }
}
