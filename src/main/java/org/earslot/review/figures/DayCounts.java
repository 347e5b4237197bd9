package org.earslot.review.figures;

import java.util.HashMap;
import java.util.Map;

/**
 * What a day adds to the head line besides its {@link MonthTotals}.
 *
 * @param attendedLate patients seen who arrived late
 * @param untimed patients seen whose times are not known
 * @param fitIns patients seen without a slot
 * @param slots visits by the minutes of their slots
 */
public record DayCounts(
        int attendedLate,
        int untimed,
        int fitIns,
        int cancelledByPatient,
        int cancelledByClinic,
        Map<Integer, Integer> slots) {

    public static final DayCounts NONE = new DayCounts(0, 0, 0, 0, 0, Map.of());

    public DayCounts plus(DayCounts more) {
        Map<Integer, Integer> both = new HashMap<>(slots);
        more.slots.forEach((minutes, visits) -> both.merge(minutes, visits, Integer::sum));
        return new DayCounts(
                attendedLate + more.attendedLate,
                untimed + more.untimed,
                fitIns + more.fitIns,
                cancelledByPatient + more.cancelledByPatient,
                cancelledByClinic + more.cancelledByClinic,
                both);
    }
}
