package org.earslot.review.figures;

import java.util.List;

/**
 * What of a month is added to other months or compared with them.
 *
 * @param promised by method and ears
 */
public record MonthSums(List<DayFigures> days, List<PromisedPlaces> promised) {

    public static final MonthSums NONE = new MonthSums(List.of(), List.of());

    public static MonthSums of(PastMonth month) {
        return new MonthSums(month.days(), PromisedPlaces.of(Promised.met(month.visits(), month.promises())));
    }
}
