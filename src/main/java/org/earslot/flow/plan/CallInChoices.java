package org.earslot.flow.plan;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Stage;

/**
 * The late or walk-in card: what to do with a patient who is here, or on the way, but whose turn it is not.
 *
 * @param seeNow called in next, before everybody who waits; one on the way before everybody who is due after the arrival
 * @param afterNext called in after the next patient
 * @param rebook not seen today
 */
public record CallInChoices(PlanChange seeNow, PlanChange afterNext, PlanChange rebook) {

    /**
     * Each choice against the list without this patient, so the effects are what it costs everyone else; the patient's
     * own figures are in {@link PlanChange#after}.
     *
     * @param list running (with {@code now}); if the patient stands in it, that place is taken out first
     * @param patient present, or from a time still to come on; a late one keeps the booked start, a walk-in is a fit-in
     */
    public static CallInChoices of(DayList list, Place patient, Costs costs) {
        LocalTime now = list.now();
        if (now == null || !(patient.stage() instanceof Stage.Present here)) {
            throw new IllegalArgumentException("a late or walk-in patient is one present on a running list; "
                    + "give the list a time of the clock and the patient an arrival");
        }
        List<Place> others = new ArrayList<>();
        for (int index : list.order()) {
            Place place = list.places().get(index);
            if (!place.name().equals(patient.name())) {
                others.add(place);
            }
        }
        int next = 0;
        while (next < others.size()
                && (others.get(next).wasCalledIn()
                        || list.isMissing(others.get(next))
                        || isDueBefore(here.arrived(), others.get(next), now))) {
            next++;
        }
        DayList without = list.withPlaces(others);
        DayList first = list.withPlaces(with(others, patient, next));
        DayList second = list.withPlaces(with(others, patient, Math.min(others.size(), next + 1)));
        return new CallInChoices(
                PlanChange.between(without, first, costs),
                PlanChange.between(without, second, costs),
                PlanChange.between(without, without, costs));
    }

    /** Whether that patient has gone in before one comes who is still on the way. */
    private static boolean isDueBefore(LocalTime arrives, Place other, LocalTime now) {
        return arrives.isAfter(now) && other.booked() != null && other.booked().isBefore(arrives);
    }

    private static List<Place> with(List<Place> others, Place patient, int at) {
        List<Place> list = new ArrayList<>(others);
        list.add(at, patient);
        return list;
    }
}
