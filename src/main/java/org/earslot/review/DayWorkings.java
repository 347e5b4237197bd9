package org.earslot.review;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicSession;
import org.earslot.ear.Method;
import org.earslot.review.figures.MeasuredVisit;
import org.earslot.review.figures.MeasuredVisits;
import org.earslot.review.figures.Scope;
import org.springframework.stereotype.Component;

/** Works out from their visits what days come to. */
@Component
class DayWorkings {

    private final MeasuredVisits visits;

    DayWorkings(MeasuredVisits visits) {
        this.visits = visits;
    }

    /**
     * Every day from {@code first} to {@code last}, the earliest first.
     *
     * @param held the sessions of these days, others too
     * @param turnaround minutes that a slot holds for making the room ready
     */
    List<DayPart> of(
            UUID clinicId,
            LocalDate first,
            LocalDate last,
            Scope whose,
            List<ClinicSession> held,
            ZoneId zone,
            ToIntFunction<Method> turnaround) {
        Map<LocalDate, List<MeasuredVisit>> listed = visits.between(clinicId, first, last, whose).stream()
                .collect(Collectors.groupingBy(MeasuredVisit::date));
        Map<LocalDate, List<ClinicSession>> sessions =
                held.stream().collect(Collectors.groupingBy(ClinicSession::date));
        return first.datesUntil(last.plusDays(1))
                .map(day -> DayPart.of(
                        day,
                        listed.getOrDefault(day, List.of()),
                        visits.cancelled(clinicId, day, day, whose),
                        sessions.getOrDefault(day, List.of()),
                        zone,
                        turnaround))
                .toList();
    }
}
