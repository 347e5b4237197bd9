package org.earslot.offers;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.earslot.booking.BookingRefusal;
import org.earslot.estimate.Estimate;
import org.jspecify.annotations.Nullable;

/** What came of looking for a slot. */
public sealed interface SlotsFound {

    /**
     * The free places, best first; may be none.
     *
     * @param from first day looked at
     * @param to last day looked at
     * @param estimates the estimate behind the length, by practitioner; empty for another kind of visit
     * @param sessions how many sessions there are of someone who may do it
     * @param anyone the estimate whoever does it, as the form of the referral shows it; null for another kind of visit
     * @param acceptedLateEnd the chance of ending late that the clinic accepts of a session, 0 to 1
     */
    record Offers(
            List<Offer> best,
            LocalDate from,
            LocalDate to,
            Map<UUID, Estimate> estimates,
            int sessions,
            @Nullable Estimate anyone,
            double acceptedLateEnd)
            implements SlotsFound {

        public Offers {
            best = List.copyOf(best);
            estimates = Map.copyOf(estimates);
        }

        /** Those that keep to the accepted share of late ends, best first. */
        public List<Offer> within() {
            return best.stream().filter(Offer::within).toList();
        }

        /** The slot that the visit would get by itself with whoever holds the session; the offer's own where that is not known. */
        public int advised(Offer offer) {
            Estimate by = estimates.get(offer.session().practitionerId());
            return by == null ? offer.slotMinutes() : by.slotMinutes();
        }
    }

    /** No place was looked for, for each of these reasons. */
    record NotLooked(List<BookingRefusal> refusals) implements SlotsFound {

        public NotLooked {
            refusals = List.copyOf(refusals);
        }
    }
}
