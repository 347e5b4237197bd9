package org.earslot.day;

import org.earslot.flow.list.Arrivals;

/**
 * Whether a booked patient comes, and when.
 *
 * @param absent chance that the visit takes no time, 0 to 1
 */
public record AttendanceProbability(double absent, Arrivals arrivals) {}
