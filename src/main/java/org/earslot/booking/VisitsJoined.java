package org.earslot.booking;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.visit.ClockRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.earslot.visit.VisitsImported;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * Joins imported visits to the bookings they came from: if a visit and a past booking have the same reference, the
 * appointment takes over what became of it. So does one whose visit an import has changed.
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
        LocalDate today = clock.today(imported.clinicId());
        LocalDate first = today.minusDays(DAYS_BACK);
        List<Appointment> recent =
                appointments.findByClinicIdAndClinicDateBetweenOrderByStartsAt(imported.clinicId(), first, today);
        Map<String, Appointment> open = recent.stream()
                .filter(appointment -> appointment.visitId().isEmpty())
                .filter(appointment -> appointment.bookingRef().isPresent())
                .collect(Collectors.toMap(one -> one.bookingRef().orElseThrow(), Function.identity()));
        if (!open.isEmpty()) {
            visits.findByClinicIdAndVisitRefIn(imported.clinicId(), open.keySet())
                    .forEach(visit -> takeOver(Objects.requireNonNull(open.get(visit.visitRef())), visit));
        }
        Map<UUID, Appointment> linked = recent.stream()
                .filter(appointment -> appointment.visitId().isPresent())
                .collect(Collectors.toMap(one -> one.visitId().orElseThrow(), Function.identity()));
        visits.asImported(imported.clinicId(), first, today).stream()
                .filter(visit -> visit.attendance().isPresent() && linked.containsKey(visit.id()))
                .filter(visit -> differs(linked.get(visit.id()).clockRecord(), visit))
                .forEach(visit -> takeOver(linked.get(visit.id()), visit));
    }

    private static boolean differs(ClockRecord known, Visit visit) {
        return !known.times().equals(visit.times())
                || !visit.attendance().equals(Optional.ofNullable(known.attendance()));
    }

    private void takeOver(Appointment appointment, Visit visit) {
        if (visit.date().equals(appointment.place().date())) {
            appointment.takeTimesOf(visit);
            appointments.save(appointment);
        }
    }
}
