package org.earslot.review.figures;

import java.time.YearMonth;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * How estimates were kept month after month, and by method and ears quarter after quarter, since a month holds too few of
 * one kind.
 *
 * @param months all visits, month by month, the earliest first; months without an estimate are left out
 * @param quarters by method and ears, three months each, the last ending with the reviewed month
 * @param year all visits of the last twelve months by tenths of the estimated range; null without an estimate
 */
public record EstimatesOverTime(
        List<Span> months, List<Span> quarters, @Nullable Tenths year) {

    static final EstimatesOverTime NONE = new EstimatesOverTime(List.of(), List.of(), null);

    private static final int QUARTERS = 6;
    private static final int YEAR = 12;

    /**
     * Some months of one method and ears; both empty for all visits.
     *
     * @param small too few visits to say
     * @param kept by estimated share; empty without visits
     */
    public record Span(
            YearMonth first,
            YearMonth last,
            String method,
            String ears,
            int visits,
            int stoppedEarly,
            boolean small,
            List<EstimatedAndActual.Kept> kept) {

        /** How the estimate to four in five was kept; null without visits. */
        public EstimatedAndActual.@Nullable Kept fourInFive() {
            return kept.stream()
                    .filter(one -> one.estimated() == 0.8)
                    .findFirst()
                    .orElse(null);
        }
    }

    /**
     * Where visits ended in the range estimated for them.
     *
     * @param visits that ran to their end, in each tenth, from the shortest
     */
    public record Tenths(List<Integer> visits) {

        /** All of them. */
        public int all() {
            return visits.stream().mapToInt(Integer::intValue).sum();
        }

        /** The share in one tenth, 0 the shortest. */
        public Share in(int tenth) {
            return new Share(visits.get(tenth), all());
        }

        /** "more", "less" or "not_clear": whether that tenth holds clearly more or fewer than a tenth. */
        public String verdict(int tenth) {
            Share share = in(tenth);
            return all() == 0 || (share.low() <= 0.1 && share.high() >= 0.1)
                    ? "not_clear"
                    : share.low() > 0.1 ? "more" : "less";
        }
    }

    public static EstimatesOverTime of(SortedMap<YearMonth, MonthSums> sums) {
        if (sums.values().stream().allMatch(month -> month.estimated().isEmpty())) {
            return NONE;
        }
        List<Span> months = new ArrayList<>();
        sums.forEach((month, sum) -> total(List.of(sum)).values().stream()
                .filter(places -> places.method().isEmpty())
                .forEach(places -> months.add(span(month, month, places))));
        YearMonth last = sums.lastKey();
        List<Span> quarters = new ArrayList<>();
        for (int quarter = QUARTERS - 1; quarter >= 0; quarter--) {
            YearMonth end = last.minusMonths(3L * quarter);
            YearMonth start = end.minusMonths(2);
            total(sums.subMap(start, end.plusMonths(1)).values()).values().stream()
                    .filter(places -> !places.method().isEmpty())
                    .forEach(places -> quarters.add(span(start, end, places)));
        }
        EstimatedPlaces year =
                total(sums.tailMap(last.minusMonths(YEAR - 1)).values()).get("");
        return new EstimatesOverTime(months, quarters, year == null ? null : new Tenths(year.tenths()));
    }

    /** By kind, all visits first. */
    private static Map<String, EstimatedPlaces> total(Collection<MonthSums> months) {
        Map<String, EstimatedPlaces> total = new TreeMap<>();
        for (MonthSums month : months) {
            for (EstimatedPlaces places : month.estimated()) {
                total.merge((places.method() + ' ' + places.ears()).strip(), places, EstimatedPlaces::plus);
            }
        }
        return total;
    }

    private static Span span(YearMonth first, YearMonth last, EstimatedPlaces places) {
        List<EstimatedAndActual.Kept> kept = new ArrayList<>();
        for (double estimated : EstimatedAndActual.SHARES) {
            EstimatedAndActual.Kept one = places.kept(estimated);
            if (one != null) {
                kept.add(one);
            }
        }
        return new Span(
                first,
                last,
                places.method(),
                places.ears(),
                places.visits(),
                places.cut(),
                places.visits() < GroupTable.SMALL,
                kept);
    }

    /** The quarters shown, by their last months, the earliest first. */
    public List<YearMonth> ends() {
        return quarters.stream().map(Span::last).distinct().sorted().toList();
    }

    /** The kinds of visit shown, as one of their spans. */
    public List<Span> kinds() {
        Map<String, Span> kinds = new TreeMap<>();
        quarters.forEach(span -> kinds.putIfAbsent(span.method() + ' ' + span.ears(), span));
        return List.copyOf(kinds.values());
    }

    /** One kind's quarter; null where it had no visit with an estimate. */
    public @Nullable Span quarter(Span kind, YearMonth end) {
        return quarters.stream()
                .filter(span -> span.last().equals(end)
                        && span.method().equals(kind.method())
                        && span.ears().equals(kind.ears()))
                .findFirst()
                .orElse(null);
    }
}
