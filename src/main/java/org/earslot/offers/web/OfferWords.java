package org.earslot.offers.web;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.List;
import org.earslot.estimate.Estimate;
import org.earslot.offers.Offer;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.page.Messages;

/** What an offer does, in words to say aloud. */
public record OfferWords(Messages messages) {

    /** What it costs the others. */
    public String added(Offer offer) {
        if (offer.last()) {
            return messages.say("offers.offer.last");
        }
        long minutes = Math.round(offer.addedWaitMinutes());
        return minutes == 0 ? messages.say("offers.offer.addsNothing") : messages.say("offers.offer.adds", minutes);
    }

    /** What this patient waits. */
    public String own(Offer offer) {
        long minutes = Math.round(offer.ownWaitMinutes());
        return minutes == 0 ? messages.say("offers.offer.noWait") : messages.say("offers.offer.wait", minutes);
    }

    /** How long the slot is beside the one that the visit would get by itself with this practitioner. */
    public String length(Offer offer, Offers found) {
        int advised = found.advised(offer);
        return advised > offer.slotMinutes()
                ? messages.say("offers.offer.tight", offer.slotMinutes(), advised)
                : messages.say("offers.offer.length", offer.slotMinutes());
    }

    /** By whom it takes another time than by anyone, and which; empty for nobody. */
    public List<String> otherLengths(Offers found) {
        Estimate anyone = found.anyone();
        return found.best().stream()
                .filter(offer -> anyone != null && found.advised(offer) != anyone.slotMinutes())
                .map(offer ->
                        messages.say("offers.slots.byPractitioner", offer.practitionerName(), found.advised(offer)))
                .distinct()
                .sorted()
                .toList();
    }

    /** How long until then. */
    public String until(Offer offer, LocalDate today) {
        long days = ChronoUnit.DAYS.between(today, offer.session().date());
        if (days == 0) {
            return messages.say("offers.offer.today");
        }
        return days == 1 ? messages.say("offers.offer.tomorrow") : messages.say("offers.offer.inDays", days);
    }
}
