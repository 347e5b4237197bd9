package org.earslot.booking;

import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.earslot.visit.VisitsImported;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * Joins imported visits to the bookings they came from: where a visit and a past booking have the same reference, the
 * appointment takes over what became of it.
 */
@Component
class VisitsJoined {

    /** Bookings further back than this are history already. */
    private static final int DAYS_BACK = 60;

    private final Appointments appointments;
    private final Visits visits;
    private final ClinicClock clock;

    VisitsJoined(Appointments appointments, Visits visits, ClinicClock clock) {
        this.appointments = appointments;
        this.visits = visits;
        this.clock = clock;
    }

    @EventListener
    void join(VisitsImported imported) {
        var today = clock.today(imported.clinicId());
        List<Appointment> open = appointments
                .findByClinicIdAndClinicDateBetweenOrderByStartsAt(
                        imported.clinicId(), today.minusDays(DAYS_BACK), today)
                .stream()
                .filter(appointment -> appointment.visitId().isEmpty()
                        && appointment.bookingRef().isPresent())
                .toList();
        if (open.isEmpty()) {
            return;
        }
        List<String> refs = open.stream().flatMap(a -> a.bookingRef().stream()).toList();
        Map<String, Visit> byRef = visits.findByClinicIdAndVisitRefIn(imported.clinicId(), refs).stream()
                .collect(Collectors.toMap(Visit::visitRef, Function.identity()));
        for (Appointment appointment : open) {
            Visit visit = byRef.get(appointment.bookingRef().orElseThrow());
            if (visit != null && visit.date().equals(appointment.place().date())) {
                appointment.happened(visit);
                appointments.save(appointment);
            }
        }
    }
}
