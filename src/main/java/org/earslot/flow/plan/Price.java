package org.earslot.flow.plan;

import org.earslot.flow.list.DayList;
import org.earslot.flow.run.Projection;

/**
 * What a list costs: {@code wait x waits + idle x idle + overtime x overtime}, expected.
 *
 * @param total in the unit of the costs
 * @param waitMinutes of all patients together, each by the chance to attend
 * @param idleMinutes of the practitioner
 * @param overtimeMinutes past the session's end
 * @param pastEnd P(the session ends late)
 */
public record Price(double total, double waitMinutes, double idleMinutes, double overtimeMinutes, double pastEnd) {

    /** What {@code list} is expected to cost. */
    public static Price of(DayList list, Costs costs) {
        return PlanCost.of(list).price(costs);
    }

    /** What a list that was projected is expected to cost. */
    public static Price of(Projection projection, Costs costs) {
        double wait = projection.totalWaitMinutes();
        double total = costs.waitMinute() * wait
                + costs.idleMinute() * projection.idleMinutes()
                + costs.overtimeMinute() * projection.overtimeMinutes();
        return new Price(total, wait, projection.idleMinutes(), projection.overtimeMinutes(), projection.pastEnd());
    }
}
