package org.earslot.offers;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.booking.BookingRefusal;
import org.earslot.estimate.Estimate;

/** What came of looking for a slot. */
public sealed interface SlotsFound {

    /**
     * The free places, best first; may be none.
     *
     * @param from first day looked at
     * @param to last day looked at
     * @param estimates the estimate behind the length, by practitioner; empty for another kind of visit
     * @param sessions how many sessions there are of someone who may do it
     */
    record Offers(List<Offer> best, LocalDate from, LocalDate to, Map<UUID, Estimate> estimates, int sessions)
            implements SlotsFound {

        public Offers {
            best = List.copyOf(best);
            estimates = Map.copyOf(estimates);
        }
    }

    /** No place was looked for, for each of these reasons. */
    record NotLooked(List<BookingRefusal> refusals) implements SlotsFound {

        public NotLooked {
            refusals = List.copyOf(refusals);
        }
    }
}
