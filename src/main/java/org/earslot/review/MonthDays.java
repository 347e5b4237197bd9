package org.earslot.review;

import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.review.MonthSummaries.Ground;
import org.earslot.review.figures.Scope;
import org.earslot.visit.VisitLogRevision;
import org.springframework.stereotype.Component;

/**
 * What the days of a month come to. Those of the whole clinic are kept once they have settled, so that a correction costs
 * one day and the running month its last days; a practitioner's own are worked out faster than read.
 */
@Component
class MonthDays {

    private final DaySummaries summaries;
    private final DayWorkings workings;
    private final VisitLogRevision changes;

    MonthDays(DaySummaries summaries, DayWorkings workings, VisitLogRevision changes) {
        this.summaries = summaries;
        this.workings = workings;
        this.changes = changes;
    }

    /**
     * What besides visits goes into the days of a month.
     *
     * @param held the sessions of the month
     * @param basis tells all of it apart, but for the sessions
     */
    record Around(ZoneId zone, PolicyTerms terms, List<ClinicSession> held, String basis) {}

    /** Every day of the month, the earliest first. */
    List<DayPart> of(UUID clinicId, YearMonth month, Scope whose, Around around) {
        if (!whose.equals(Scope.EVERYONE)) {
            return workedOut(clinicId, month.atDay(1), month.atEndOfMonth(), whose, around);
        }
        return upTo(month.atEndOfMonth(), clinicId, month, around, grounds(clinicId, month, around));
    }

    /** Works out what is missing of the whole clinic's days that have settled. */
    void ahead(UUID clinicId, YearMonth month, Around around) {
        SortedMap<LocalDate, Ground> grounds = grounds(clinicId, month, around);
        if (!grounds.isEmpty()) {
            upTo(grounds.lastKey(), clinicId, month, around, grounds);
        }
    }

    private List<DayPart> upTo(
            LocalDate end, UUID clinicId, YearMonth month, Around around, SortedMap<LocalDate, Ground> grounds) {
        SortedMap<LocalDate, DayPart> days = summaries.standing(clinicId, grounds);
        List<DayPart> anew = new ArrayList<>();
        for (LocalDate first = month.atDay(1); !first.isAfter(end); first = first.plusDays(1)) {
            if (!days.containsKey(first)) {
                LocalDate last = first;
                while (last.isBefore(end) && !days.containsKey(last.plusDays(1))) {
                    last = last.plusDays(1);
                }
                anew.addAll(workedOut(clinicId, first, last, Scope.EVERYONE, around));
                first = last;
            }
        }
        summaries.keep(
                clinicId,
                anew.stream().filter(day -> grounds.containsKey(day.date())).toList(),
                grounds);
        anew.forEach(day -> days.put(day.date(), day));
        return List.copyOf(days.values());
    }

    private List<DayPart> workedOut(UUID clinicId, LocalDate first, LocalDate last, Scope whose, Around around) {
        return workings.of(
                clinicId, first, last, whose, around.held(), around.zone(), around.terms()::turnaroundMinutes);
    }

    /** Of the days that have settled. Counted before any visit is read: a change that comes between is then found next time. */
    private SortedMap<LocalDate, Ground> grounds(UUID clinicId, YearMonth month, Around around) {
        Map<LocalDate, List<ClinicSession>> held =
                around.held().stream().collect(Collectors.groupingBy(ClinicSession::date));
        SortedMap<LocalDate, Ground> grounds = new TreeMap<>();
        changes.countsByDay(clinicId, month).forEach((day, count) -> {
            if (changes.settled(day)) {
                String basis = around.basis() + "\n" + held.getOrDefault(day, List.of());
                grounds.put(day, new Ground(count, MonthSummaries.named(basis)));
            }
        });
        return grounds;
    }
}
