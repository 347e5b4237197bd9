package org.earslot.diary;

import org.earslot.flow.Arrivals;

/**
 * Whether a booked patient comes, and when.
 *
 * @param absent chance that the visit takes no time, 0 to 1
 */
record Likely(double absent, Arrivals arrivals) {}
