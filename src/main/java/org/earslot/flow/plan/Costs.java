package org.earslot.flow.plan;

import org.earslot.flow.list.Bounds;

/**
 * What a minute costs, in any one unit: a patient's wait, the practitioner's idle time, overtime.
 *
 * @param waitMinute finite, at least 0, as the others; not all 0
 */
public record Costs(double waitMinute, double idleMinute, double overtimeMinute) {

    public Costs {
        Bounds.nonNegative("cost of a minute's wait", waitMinute);
        Bounds.nonNegative("cost of an idle minute", idleMinute);
        Bounds.nonNegative("cost of a minute's overtime", overtimeMinute);
        if (waitMinute + idleMinute + overtimeMinute == 0) {
            throw new IllegalArgumentException("all costs are 0; give at least one above 0");
        }
    }
}
