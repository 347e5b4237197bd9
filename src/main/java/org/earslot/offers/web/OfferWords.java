package org.earslot.offers.web;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
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

    /** The chance that the session ends late, in a hundred. */
    public String late(Offer offer) {
        long inHundred = Math.round(100 * offer.overtimeRisk());
        if (offer.whenFull()) {
            return inHundred == 0
                    ? messages.say("offers.offer.notLateFull")
                    : messages.say("offers.offer.lateFull", inHundred);
        }
        return inHundred == 0 ? messages.say("offers.offer.notLate") : messages.say("offers.offer.late", inHundred);
    }

    /** Why the slot is not as long as advised for the visit by itself; empty if it is. */
    public String shorter(Offer offer, Offers found) {
        Estimate advised = found.estimates().get(offer.session().practitionerId());
        return advised == null || advised.slotMinutes() <= offer.slotMinutes()
                ? ""
                : messages.say("offers.offer.shorter", advised.slotMinutes(), offer.slotMinutes());
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
