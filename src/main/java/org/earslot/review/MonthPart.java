package org.earslot.review;

/** Everything that is worked out from one month's visits. */
record MonthPart(MonthSums sums, MonthFigures figures) {}
