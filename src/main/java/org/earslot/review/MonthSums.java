package org.earslot.review;

import java.util.List;

/** What of a month is added to other months or held against them. @param promised by method and ears */
record MonthSums(List<DayFigures> days, List<PromisedPlaces> promised) {

    static final MonthSums NONE = new MonthSums(List.of(), List.of());
}
