package org.earslot.review.figures;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.UUID;
import org.earslot.estimate.BookedEstimate;
import org.earslot.minutes.MinutesDistribution;

/** The times in room promised at booking, read once for all that is asked of them. */
public final class Promises {

    private final Map<UUID, MinutesDistribution> inRoom = new HashMap<>();

    private Promises() {}

    public static Promises of(List<MeasuredVisit> visits) {
        Promises promises = new Promises();
        for (MeasuredVisit visit : visits) {
            BookedEstimate.find(visit.promised())
                    .ifPresent(promise -> promises.inRoom.put(visit.id(), promise.inRoomMinutes()));
        }
        return promises;
    }

    /**
     * The promised probability that the visit is out by the time it was; empty where nothing was promised or its times are
     * not known.
     */
    OptionalDouble place(MeasuredVisit visit) {
        MinutesDistribution promised = inRoom.get(visit.id());
        OptionalDouble minutes = visit.inRoom();
        return promised == null || minutes.isEmpty()
                ? OptionalDouble.empty()
                : OptionalDouble.of(promised.cdf(minutes.getAsDouble()));
    }

    /**
     * The chance, as it stood when the visit was booked, that the visit alone outlasts its slot: promised time in room
     * and turnaround together. Empty without a slot or a promise.
     *
     * @param turnaround minutes that the slot holds for making the room ready
     */
    OptionalDouble chanceToOutlastSlot(MeasuredVisit visit, int turnaround) {
        MinutesDistribution promised = inRoom.get(visit.id());
        return promised == null || visit.slotMinutes() == null
                ? OptionalDouble.empty()
                : OptionalDouble.of(1 - promised.cdf(visit.slotMinutes() - turnaround));
    }
}
