package org.earslot.review;

import java.time.YearMonth;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.SessionPattern;
import org.earslot.clinic.Sessions;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.review.MonthSummaries.Ground;
import org.earslot.review.MonthSummaries.Part;
import org.earslot.review.figures.DayFigures;
import org.earslot.review.figures.EarsSeenAgain;
import org.earslot.review.figures.MonthFigures;
import org.earslot.review.figures.MonthSums;
import org.earslot.review.figures.Repeats;
import org.earslot.review.figures.Scope;
import org.earslot.visit.VisitLogRevision;
import org.springframework.stereotype.Component;

/**
 * What each month comes to: as it was kept while that still holds, else put together anew from its days. Months that have
 * settled are kept; of the running one the days that have.
 */
@Component
class MonthParts {

    /** Raised whenever the same visits come to other figures than in the release before. */
    private static final String RELEASE = "2";

    private final MonthSummaries summaries;
    private final MonthDays days;
    private final EarsSeenAgain seenAgain;
    private final VisitLogRevision changes;
    private final Sessions sessions;
    private final Policies policies;
    private final Practitioners practitioners;
    private final ClinicClock clock;

    MonthParts(
            MonthSummaries summaries,
            MonthDays days,
            EarsSeenAgain seenAgain,
            VisitLogRevision changes,
            Sessions sessions,
            Policies policies,
            Practitioners practitioners,
            ClinicClock clock) {
        this.summaries = summaries;
        this.days = days;
        this.seenAgain = seenAgain;
        this.changes = changes;
        this.sessions = sessions;
        this.policies = policies;
        this.practitioners = practitioners;
        this.clock = clock;
    }

    /** A month's own figures and repeats, and the sums of the months up to it, the earliest first. */
    record Read(MonthFigures own, Repeats again, SortedMap<YearMonth, MonthSums> sums) {

        List<DayFigures> days(YearMonth month) {
            return sums.getOrDefault(month, MonthSums.NONE).days();
        }
    }

    /** @param months how many, the asked one among them */
    Read upTo(UUID clinicId, YearMonth month, int months, Scope whose) {
        Circumstances circumstances = circumstances(clinicId, month.minusMonths(months - 1L), month);
        SortedMap<YearMonth, MonthSums> sums =
                new TreeMap<>(summaries.standing(clinicId, whose, Part.SUMS, circumstances.grounds()));
        MonthFigures own = sums.containsKey(month)
                ? summaries
                        .standing(
                                clinicId,
                                whose,
                                Part.FIGURES,
                                circumstances.grounds().tailMap(month))
                        .get(month)
                : null;
        for (YearMonth each : circumstances.grounds().keySet()) {
            if (!sums.containsKey(each) || (each.equals(month) && own == null)) {
                MonthPart part = workedOut(clinicId, each, whose, circumstances);
                sums.put(each, part.sums());
                own = each.equals(month) ? part.figures() : own;
            }
        }
        return new Read(own, again(clinicId, month, whose, circumstances), sums);
    }

    /** Works out the days of a month that has not settled yet, but for its last ones. */
    void ahead(UUID clinicId, YearMonth month) {
        days.ahead(clinicId, month, circumstances(clinicId, month, month).around(month));
    }

    /** What anything rests on that is worked out from so many months up to {@code month}, and on {@code more} besides. */
    Ground ground(UUID clinicId, YearMonth month, int months, String more) {
        Circumstances circumstances = circumstances(clinicId, month.minusMonths(months - 1L), month);
        long changed = circumstances.counts().values().stream()
                .mapToLong(Long::longValue)
                .sum();
        return new Ground(
                changed, MonthSummaries.named(circumstances.grounds().get(month).basis() + "\n" + more));
    }

    private MonthPart workedOut(UUID clinicId, YearMonth month, Scope whose, Circumstances circumstances) {
        MonthPart part = MonthPart.of(days.of(clinicId, month, whose, circumstances.around(month)));
        if (changes.settled(month)) {
            Ground ground = circumstances.grounds().get(month);
            summaries.keep(clinicId, whose, month, Part.SUMS, ground, part.sums());
            summaries.keep(clinicId, whose, month, Part.FIGURES, ground, part.figures());
        }
        return part;
    }

    /** Repeats rest on the visits of the {@value Repeats#DAYS} days before too. */
    private Repeats again(UUID clinicId, YearMonth month, Scope whose, Circumstances circumstances) {
        YearMonth first = YearMonth.from(month.atDay(1).minusDays(Repeats.DAYS));
        long changed = circumstances.counts().entrySet().stream()
                .filter(entry -> !entry.getKey().isBefore(first))
                .mapToLong(Map.Entry::getValue)
                .sum();
        SortedMap<YearMonth, Ground> ground = new TreeMap<>(Map.of(month, new Ground(changed, RELEASE)));
        Repeats kept = summaries.standing(clinicId, whose, Part.AGAIN, ground).get(month);
        if (kept != null) {
            return kept;
        }
        Repeats again = seenAgain.between(clinicId, month.atDay(1), month.atEndOfMonth(), whose);
        if (changes.settled(month)) {
            summaries.keep(clinicId, whose, month, Part.AGAIN, ground.get(month), again);
        }
        return again;
    }

    /** What besides visits goes into the figures of these months. @param basis tells it apart, but for the sessions */
    private record Circumstances(
            ZoneId zone,
            PolicyTerms terms,
            String basis,
            Map<YearMonth, Long> counts,
            SessionPattern sessions,
            SortedMap<YearMonth, Ground> grounds) {

        MonthDays.Around around(YearMonth month) {
            return new MonthDays.Around(zone, terms, sessions.between(month.atDay(1), month.atEndOfMonth()), basis);
        }
    }

    private Circumstances circumstances(UUID clinicId, YearMonth first, YearMonth last) {
        // Counted before any visit is read: a change that comes between is then found next time.
        Map<YearMonth, Long> counts = changes.counts(clinicId, first, last);
        ZoneId zone = clock.zone(clinicId);
        PolicyTerms terms = policies.findById(clinicId)
                .orElseGet(() -> Policy.starting(clinicId))
                .terms();
        SessionPattern pattern = sessions.pattern(clinicId, first.atDay(1), last.atEndOfMonth());
        String people = practitioners.findByClinicIdOrderByName(clinicId).stream()
                .map(one -> one.id() + one.name())
                .collect(Collectors.joining("\n"));
        String basis = String.join(
                "\n",
                RELEASE,
                zone.getId(),
                terms.irrigationTurnaroundMinutes() + " " + terms.microsuctionTurnaroundMinutes() + " "
                        + terms.manualRemovalTurnaroundMinutes(),
                people);
        SortedMap<YearMonth, Ground> grounds = new TreeMap<>();
        for (YearMonth month = first; !month.isAfter(last); month = month.plusMonths(1)) {
            String all = basis + "\n" + pattern.text(month.atDay(1), month.atEndOfMonth());
            grounds.put(month, new Ground(counts.getOrDefault(month, 0L), MonthSummaries.named(all)));
        }
        return new Circumstances(zone, terms, basis, counts, pattern, grounds);
    }
}
