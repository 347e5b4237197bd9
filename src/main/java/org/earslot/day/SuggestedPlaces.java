package org.earslot.day;

import java.time.LocalDateTime;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.SessionTemplate;
import org.earslot.clinic.SessionTemplates;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Where a day's templates would have visits that nobody has booked yet. */
@Component
public class SuggestedPlaces {

    private final SessionTemplates templates;
    private final ClinicClock clock;

    SuggestedPlaces(SessionTemplates templates, ClinicClock clock) {
        this.templates = templates;
        this.clock = clock;
    }

    /** The free places of each session's template, by the session's key; sessions without any are left out. */
    @Transactional(readOnly = true)
    public Map<String, List<SessionTemplate.Place>> of(DaySchedule day) {
        LocalDateTime now = clock.local(day.clinicId(), clock.now());
        Map<String, List<SessionTemplate.Place>> free = new HashMap<>();
        for (Lane lane : day.lanes()) {
            for (DaySchedule.Session session : lane.sessions()) {
                templates.of(day.clinicId(), session.held().origin()).ifPresent(template -> {
                    List<SessionTemplate.Place> places = template.places().stream()
                            .filter(place -> day.date().atTime(place.start()).isAfter(now))
                            .filter(place -> lane.seen().stream().noneMatch(line -> overlaps(line, place)))
                            .toList();
                    if (!places.isEmpty()) {
                        free.put(session.held().key(), places);
                    }
                });
            }
        }
        return free;
    }

    private static boolean overlaps(Line line, SessionTemplate.Place place) {
        return !line.fitIn()
                && line.start().isBefore(place.start().plusMinutes(place.slotMinutes()))
                && place.start().isBefore(line.slotEnd());
    }
}
