package org.earslot.offers.web;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import org.earslot.booking.web.DiaryWords;
import org.earslot.estimate.Estimate;
import org.earslot.offers.Offer;
import org.earslot.offers.SlotsFound.Offers;
import org.springframework.stereotype.Component;

/** What an offer does, in words to say aloud. */
@Component
public class OfferWords {

    private final DiaryWords words;

    OfferWords(DiaryWords words) {
        this.words = words;
    }

    /** What it costs the others. */
    public String added(Offer offer) {
        if (offer.last()) {
            return words.say("offers.offer.last");
        }
        long minutes = Math.round(offer.addedWaitMinutes());
        return minutes == 0 ? words.say("offers.offer.addsNothing") : words.say("offers.offer.adds", minutes);
    }

    /** What this patient waits. */
    public String own(Offer offer) {
        long minutes = Math.round(offer.ownWaitMinutes());
        return minutes == 0 ? words.say("offers.offer.noWait") : words.say("offers.offer.wait", minutes);
    }

    /** The chance that the session ends late, in a hundred. */
    public String late(Offer offer) {
        long inHundred = Math.round(100 * offer.overtimeRisk());
        if (offer.whenFull()) {
            return inHundred == 0
                    ? words.say("offers.offer.notLateFull")
                    : words.say("offers.offer.lateFull", inHundred);
        }
        return inHundred == 0 ? words.say("offers.offer.notLate") : words.say("offers.offer.late", inHundred);
    }

    /** Why the slot is not as long as advised for the visit by itself; empty where it is. */
    public String shorter(Offer offer, Offers found) {
        Estimate advised = found.estimates().get(offer.session().practitionerId());
        return advised == null || advised.slotMinutes() <= offer.slotMinutes()
                ? ""
                : words.say("offers.offer.shorter", advised.slotMinutes(), offer.slotMinutes());
    }

    /** How long until then. */
    public String until(Offer offer, LocalDate today) {
        long days = ChronoUnit.DAYS.between(today, offer.session().date());
        if (days == 0) {
            return words.say("offers.offer.today");
        }
        return days == 1 ? words.say("offers.offer.tomorrow") : words.say("offers.offer.inDays", days);
    }
}
