package org.earslot.review.figures;

import java.util.List;

/** What of a month is added to other months or held against them. @param promised by method and ears */
public record MonthSums(List<DayFigures> days, List<PromisedPlaces> promised) {

    public static final MonthSums NONE = new MonthSums(List.of(), List.of());
}
