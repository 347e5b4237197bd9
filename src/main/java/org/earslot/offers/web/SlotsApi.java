package org.earslot.offers.web;

import java.time.LocalDateTime;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioners;
import org.earslot.offers.NoOffer;
import org.earslot.offers.Offer;
import org.earslot.offers.SlotWish;
import org.earslot.offers.Slots;
import org.earslot.offers.SlotsFound;
import org.earslot.offers.SlotsFound.NotLooked;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.offers.WhyNoOffer;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Free places for a referral, best first, for other programs. */
@RestController
class SlotsApi {

    private final Slots slots;
    private final WhyNoOffer whyNone;
    private final Practitioners practitioners;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    SlotsApi(
            Slots slots,
            WhyNoOffer whyNone,
            Practitioners practitioners,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.slots = slots;
        this.whyNone = whyNone;
        this.practitioners = practitioners;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    /** One offer; the session's name is what a booking asks for. */
    record OfferBody(
            String session,
            String practitioner,
            String room,
            LocalDateTime start,
            int slotMinutes,
            double ownWaitMinutes,
            double addedWaitMinutes,
            double overtimeRisk,
            double bookedLateEnd,
            boolean withinLimit) {

        static OfferBody of(Offer offer) {
            return new OfferBody(
                    offer.session().key(),
                    offer.practitionerName(),
                    offer.roomName(),
                    LocalDateTime.of(offer.session().date(), offer.start()),
                    offer.slotMinutes(),
                    rounded(offer.ownWaitMinutes(), 10),
                    rounded(offer.addedWaitMinutes(), 10),
                    rounded(offer.overtimeRisk(), 1000),
                    rounded(offer.bookedLateEnd(), 1000),
                    offer.within());
        }

        private static double rounded(double value, double parts) {
            return Math.round(value * parts) / parts;
        }
    }

    /** The offers, best first; if there are none, why. */
    record SlotsBody(List<OfferBody> offers, @Nullable NoneBody none) {}

    /**
     * Why there is no offer.
     *
     * @param reason its code
     * @param detail one sentence
     */
    record NoneBody(String reason, String detail) {}

    @GetMapping("/api/v1/slots")
    SlotsBody slots(
            @RequestParam(name = "referral") UUID referralId,
            @RequestParam(required = false) @Nullable String practitioner,
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to,
            @RequestParam(required = false) @Nullable String part,
            @RequestParam(required = false) @Nullable Boolean beyondLimit) {
        Reading reading = new Reading();
        Map<String, String> typed = new HashMap<>();
        put(typed, "from", from);
        put(typed, "to", to);
        put(typed, "part", part);
        if (practitioner != null) {
            practitioners
                    .findByClinicIdAndName(current.id(), practitioner)
                    .ifPresentOrElse(
                            known -> typed.put("practitioner", known.id().toString()),
                            () -> reading.refuse("practitioner", "", "offers.allowed.practitioner"));
        }
        Optional<SlotWish> wish = new SlotForm(typed).wish(referralId, null, clock.today(current.id()), reading);
        SlotWish asked = wish.orElseThrow(() -> Refused.invalid(reading.problems()));
        SlotsFound found = slots.search(current.id(), asked);
        if (found instanceof NotLooked no) {
            throw Refused.of(no.refusals());
        }
        Offers offers = (Offers) found;
        List<Offer> asOffered = Boolean.TRUE.equals(beyondLimit) ? offers.best() : offers.within();
        List<OfferBody> best = asOffered.stream().map(OfferBody::of).toList();
        return new SlotsBody(best, best.isEmpty() ? none(asked, offers) : null);
    }

    private NoneBody none(SlotWish asked, Offers offers) {
        NoOffer why = whyNone.of(current.id(), asked, offers);
        return new NoneBody(why.code(), messages.say("offers.none." + why.code()));
    }

    private static void put(Map<String, String> typed, String field, @Nullable String given) {
        if (given != null) {
            typed.put(field, given);
        }
    }
}
