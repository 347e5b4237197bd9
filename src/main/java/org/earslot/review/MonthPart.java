package org.earslot.review;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.review.figures.Change;
import org.earslot.review.figures.DayCounts;
import org.earslot.review.figures.DayFigures;
import org.earslot.review.figures.Dimension;
import org.earslot.review.figures.GroupSum;
import org.earslot.review.figures.GroupTable;
import org.earslot.review.figures.HeadLine;
import org.earslot.review.figures.Indicators;
import org.earslot.review.figures.MetPlaces;
import org.earslot.review.figures.MonthFigures;
import org.earslot.review.figures.MonthSums;
import org.earslot.review.figures.MonthTotals;
import org.earslot.review.figures.Promised;
import org.earslot.review.figures.PromisedPlaces;
import org.earslot.review.figures.SessionMinutes;
import org.earslot.review.figures.Share;
import org.earslot.review.figures.Waits;
import org.earslot.review.figures.WeeksToAppointment;
import org.jspecify.annotations.Nullable;

/** Everything that is worked out from one month's visits. */
record MonthPart(MonthSums sums, MonthFigures figures) {

    /** @param days of the month, the earliest first */
    static MonthPart of(List<DayPart> days) {
        List<Promised.Met> met = days.stream()
                .flatMap(day -> day.promised().stream())
                .flatMap(MetPlaces::met)
                .toList();
        List<DayFigures> seen = days.stream()
                .filter(day -> !day.figures().equals(MonthTotals.NONE))
                .map(day -> new DayFigures(day.date(), day.figures()))
                .toList();
        MonthFigures figures = new MonthFigures(
                head(days),
                Arrays.stream(Dimension.values()).map(by -> where(by, days)).toList(),
                days.stream().map(DayPart::waits).reduce(Waits.NONE, Waits::plus),
                Promised.of(met, days.stream().mapToInt(DayPart::withoutPromise).sum()),
                days.stream().map(DayPart::indicators).reduce(Indicators.NONE, Indicators::plus));
        return new MonthPart(new MonthSums(seen, PromisedPlaces.of(met)), figures);
    }

    private static GroupTable where(Dimension by, List<DayPart> days) {
        return GroupTable.of(
                by,
                GroupSum.added(days.stream()
                        .flatMap(day -> day.where().get(by.ordinal()).sums().stream())
                        .toList()));
    }

    private static HeadLine head(List<DayPart> days) {
        MonthTotals figures = days.stream().map(DayPart::figures).reduce(MonthTotals.NONE, MonthTotals::plus);
        DayCounts counts = days.stream().map(DayPart::counts).reduce(DayCounts.NONE, DayCounts::plus);
        return new HeadLine(
                figures.seen(),
                counts.attendedLate(),
                figures.lateNotSeen(),
                figures.absent(),
                counts.cancelledByPatient(),
                counts.cancelledByClinic(),
                counts.untimed(),
                counts.fitIns(),
                new Share(figures.late(), figures.waits()),
                figures.waits() == 0 ? null : figures.waitSum() / figures.waits(),
                new Share(figures.overran(), figures.measured()),
                0,
                0,
                Change.NOT_KNOWN,
                days.stream().map(DayPart::sessions).reduce(SessionMinutes.NONE, SessionMinutes::plus),
                WeeksToAppointment.NONE,
                usual(counts.slots()));
    }

    /** The lower middle one of the slots. @param slots visits by the minutes of their slots */
    private static @Nullable Integer usual(Map<Integer, Integer> slots) {
        int all = slots.values().stream().mapToInt(Integer::intValue).sum();
        int so = 0;
        for (Map.Entry<Integer, Integer> each : new TreeMap<>(slots).entrySet()) {
            so += each.getValue();
            if (so > (all - 1) / 2) {
                return each.getKey();
            }
        }
        return null;
    }
}
