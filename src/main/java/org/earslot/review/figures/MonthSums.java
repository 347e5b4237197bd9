package org.earslot.review.figures;

import java.util.List;

/**
 * What of a month is added to other months or compared with them.
 *
 * @param estimated by method and ears
 */
public record MonthSums(List<DayFigures> days, List<EstimatedPlaces> estimated) {

    public static final MonthSums NONE = new MonthSums(List.of(), List.of());

    public static MonthSums of(PastMonth month) {
        return new MonthSums(
                month.days(), EstimatedPlaces.of(EstimatedAndActual.met(month.visits(), month.estimates())));
    }
}
