package org.earslot.review.figures;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.UUID;
import org.earslot.estimate.BookedEstimate;
import org.earslot.minutes.MinutesDistribution;

/** The times in room estimated at booking, read once for all that is asked of them. */
public final class BookedEstimates {

    private final Map<UUID, MinutesDistribution> inRoom = new HashMap<>();

    private BookedEstimates() {}

    public static BookedEstimates of(List<MeasuredVisit> visits) {
        BookedEstimates estimates = new BookedEstimates();
        for (MeasuredVisit visit : visits) {
            BookedEstimate.find(visit.estimated())
                    .ifPresent(estimate -> estimates.inRoom.put(visit.id(), estimate.inRoomMinutes()));
        }
        return estimates;
    }

    /**
     * The estimated probability that the visit is out by the time it was; empty where nothing was estimated or its times are
     * not known.
     */
    OptionalDouble place(MeasuredVisit visit) {
        MinutesDistribution estimated = inRoom.get(visit.id());
        OptionalDouble minutes = visit.inRoom();
        return estimated == null || minutes.isEmpty()
                ? OptionalDouble.empty()
                : OptionalDouble.of(estimated.cdf(minutes.getAsDouble()));
    }

    /**
     * The chance, as it stood when the visit was booked, that the visit alone outlasts its slot: estimated time in room
     * and turnaround together. Empty without a slot or an estimate.
     *
     * @param turnaround minutes that the slot holds for making the room ready
     */
    OptionalDouble chanceToOutlastSlot(MeasuredVisit visit, int turnaround) {
        MinutesDistribution estimated = inRoom.get(visit.id());
        return estimated == null || visit.slotMinutes() == null
                ? OptionalDouble.empty()
                : OptionalDouble.of(1 - estimated.cdf(visit.slotMinutes() - turnaround));
    }
}
