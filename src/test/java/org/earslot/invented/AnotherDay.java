package org.earslot.invented;

import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * The same visits once more: who comes, when, and how long it takes are drawn again from the clinic's truth, given what was
 * told of each visit. Many such days tell policies apart that a single day's luck would not.
 */
public final class AnotherDay {

    private static final double ABSENT = 0.09;

    private final PerfectForecaster perfect;
    private final ClinicTruth truth;
    private final Map<Integer, TrueTimes> times = new HashMap<>();

    private AnotherDay(PerfectForecaster perfect, ClinicTruth truth) {
        this.perfect = perfect;
        this.truth = truth;
    }

    /** @param log what is known of the patients' earlier visits */
    public static AnotherDay of(InventedClinic clinic, List<InventedVisit> log) {
        return new AnotherDay(PerfectForecaster.of(clinic, log), clinic.truth());
    }

    /** A visit drawn again; the same number of the day gives the same draw, whatever is asked in between. */
    public InventedVisit drawn(InventedVisit visit, int day) {
        InventedVisit.Told told = visit.told();
        TrueTimes of = times.computeIfAbsent(told.number(), number -> perfect.forecast(told));
        Luck luck = new Luck(told.number() * 7919L + day * 104_729L);
        double completion = of.whole().quantile(luck.unit());
        double comfortStop = luck.exponential(1 / truth.stopHazard[told.method().ordinal()]);
        return new InventedVisit(
                told,
                visit.kept(),
                new InventedVisit.Truth(
                        !luck.happens(ABSENT),
                        8 + 9 * luck.normal(),
                        completion,
                        comfortStop,
                        1.5 + luck.gamma(2, 1.8)));
    }
}
