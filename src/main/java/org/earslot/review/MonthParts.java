package org.earslot.review;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Policies;
import org.earslot.clinic.Policy;
import org.earslot.clinic.PolicyTerms;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Sessions;
import org.earslot.review.MonthSummaries.Ground;
import org.earslot.visit.PastChanges;
import org.springframework.stereotype.Component;

/**
 * What each month comes to: as it was kept while that still holds, else worked out anew from its visits. Months that have
 * settled are kept; the running one never.
 */
@Component
class MonthParts {

    /** Raised whenever the same visits come to other figures than in the release before. */
    private static final String RELEASE = "1";

    private final MonthSummaries summaries;
    private final MonthWorkings workings;
    private final PastChanges changes;
    private final Sessions sessions;
    private final Policies policies;
    private final Practitioners practitioners;
    private final ClinicClock clock;

    MonthParts(
            MonthSummaries summaries,
            MonthWorkings workings,
            PastChanges changes,
            Sessions sessions,
            Policies policies,
            Practitioners practitioners,
            ClinicClock clock) {
        this.summaries = summaries;
        this.workings = workings;
        this.changes = changes;
        this.sessions = sessions;
        this.policies = policies;
        this.practitioners = practitioners;
        this.clock = clock;
    }

    /** A month's own figures, and the sums of the months up to it, the earliest first. */
    record Read(MonthFigures own, SortedMap<YearMonth, MonthSums> sums) {

        List<DayFigures> days(YearMonth month) {
            return sums.getOrDefault(month, MonthSums.NONE).days();
        }
    }

    /** @param months how many, the asked one among them */
    Read upTo(UUID clinicId, YearMonth month, int months, Whose whose) {
        Circumstances circumstances = circumstances(clinicId, month.minusMonths(months - 1L), month);
        Map<YearMonth, MonthSums> standing = summaries.standing(clinicId, whose, circumstances.grounds());
        MonthFigures own = standing.containsKey(month)
                ? summaries
                        .figures(clinicId, whose, month, circumstances.grounds().get(month))
                        .orElse(null)
                : null;
        SortedMap<YearMonth, MonthSums> sums = new TreeMap<>(standing);
        for (YearMonth each : circumstances.grounds().keySet()) {
            if (!standing.containsKey(each) || (each.equals(month) && own == null)) {
                MonthPart part = workedOut(clinicId, each, whose, circumstances);
                sums.put(each, part.sums());
                own = each.equals(month) ? part.figures() : own;
            }
        }
        return new Read(own, sums);
    }

    private MonthPart workedOut(UUID clinicId, YearMonth month, Whose whose, Circumstances circumstances) {
        MonthPart part = workings.of(
                clinicId,
                month,
                whose,
                circumstances.sessions().getOrDefault(month, List.of()),
                circumstances.zone(),
                circumstances.terms()::turnaroundMinutes);
        if (changes.settled(month)) {
            summaries.keep(clinicId, whose, month, circumstances.grounds().get(month), part);
        }
        return part;
    }

    /** What besides visits goes into the figures of these months. */
    private record Circumstances(
            ZoneId zone,
            PolicyTerms terms,
            Map<YearMonth, List<ClinicSession>> sessions,
            SortedMap<YearMonth, Ground> grounds) {}

    private Circumstances circumstances(UUID clinicId, YearMonth first, YearMonth last) {
        // Counted before any visit is read: a change that comes between is then found next time.
        Map<YearMonth, Long> counts = changes.counts(clinicId, first, last);
        ZoneId zone = clock.zone(clinicId);
        PolicyTerms terms = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms();
        Map<YearMonth, List<ClinicSession>> held = heldBy(clinicId, first.atDay(1), last.atEndOfMonth());
        String people = practitioners.findByClinicIdOrderByName(clinicId).stream()
                .map(one -> one.id() + one.name())
                .collect(Collectors.joining("\n"));
        SortedMap<YearMonth, Ground> grounds = new TreeMap<>();
        for (YearMonth month = first; !month.isAfter(last); month = month.plusMonths(1)) {
            String basis = String.join(
                    "\n",
                    RELEASE,
                    zone.getId(),
                    terms.irrigationTurnaroundMinutes() + " " + terms.microsuctionTurnaroundMinutes() + " "
                            + terms.manualRemovalTurnaroundMinutes(),
                    people,
                    held.getOrDefault(month, List.of()).toString());
            grounds.put(
                    month,
                    new Ground(
                            counts.getOrDefault(month, 0L),
                            UUID.nameUUIDFromBytes(basis.getBytes(StandardCharsets.UTF_8))
                                    .toString()));
        }
        return new Circumstances(zone, terms, held, grounds);
    }

    private Map<YearMonth, List<ClinicSession>> heldBy(UUID clinicId, LocalDate first, LocalDate last) {
        return sessions.between(clinicId, first, last).stream()
                .collect(Collectors.groupingBy(
                        session -> YearMonth.from(session.date()), HashMap::new, Collectors.toList()));
    }
}
