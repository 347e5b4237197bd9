package org.earslot.offers.web;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.SuitabilityCheck;
import org.earslot.caution.Suitability;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.ear.Method;
import org.earslot.offers.Offer;
import org.earslot.offers.SlotWish;
import org.earslot.offers.Slots;
import org.earslot.offers.SlotsFound;
import org.earslot.offers.SlotsFound.NotLooked;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.page.Messages;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Referral;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The places found, the few best first, with what is worth knowing of each. */
@Component
class OffersSection {

    /** Few enough to be read aloud. */
    private static final int BEST = 5;

    private final Slots slots;
    private final SuitabilityCheck suitabilityCheck;
    private final MethodSuitability suitability;
    private final Appointments appointments;
    private final CurrentClinic current;
    private final ClinicClock clock;
    private final Messages messages;

    OffersSection(
            Slots slots,
            SuitabilityCheck suitabilityCheck,
            MethodSuitability suitability,
            Appointments appointments,
            CurrentClinic current,
            ClinicClock clock,
            Messages messages) {
        this.slots = slots;
        this.suitabilityCheck = suitabilityCheck;
        this.suitability = suitability;
        this.appointments = appointments;
        this.current = current;
        this.clock = clock;
        this.messages = messages;
    }

    /** Looks for places and shows them, or says why it does not look. */
    void add(Model model, SlotWish wish, boolean bestFirst, @Nullable Referral referral, @Nullable Appointment moved) {
        SlotsFound found = slots.search(current.id(), wish);
        if (found instanceof NotLooked no) {
            model.addAttribute("notLooked", messages.say(no.refusals()));
            if (referral != null) {
                appointments.findByClinicIdAndReferralIdInOrderByStartsAt(current.id(), List.of(referral.id())).stream()
                        .filter(one -> one.status().toCome() || one.status().present())
                        .findFirst()
                        .ifPresent(one -> model.addAttribute("booked", one));
            }
            return;
        }
        Offers offers = (Offers) found;
        List<Offer> elsewhere = offers.best().stream()
                .filter(offer -> moved == null || !isThere(moved, offer))
                .toList();
        List<Offer> within = elsewhere.stream().filter(Offer::within).toList();
        List<Offer> best = differing(within);
        List<Offer> beyond =
                differing(elsewhere.stream().filter(offer -> !offer.within()).toList());
        Comparator<Offer> order = bestFirst
                ? Comparator.comparing(elsewhere::indexOf)
                : Comparator.comparing(offer -> offer.place().start());
        model.addAttribute("best", best.stream().findFirst().orElse(null));
        model.addAttribute("offers", elsewhere);
        model.addAttribute("within", best.stream().sorted(order).toList());
        model.addAttribute("beyond", beyond.stream().sorted(order).toList());
        model.addAttribute(
                "more",
                within.stream()
                        .filter(offer -> !best.contains(offer))
                        .sorted(order)
                        .toList());
        model.addAttribute("cautions", inForce(referral, elsewhere));
        model.addAttribute("words", new OfferWords(messages));
        model.addAttribute("worse", moved == null ? Map.of() : worse(moved, offers.best()));
        model.addAttribute("found", offers);
        model.addAttribute("contraindicated", offers.sessions() == 0 && forbidden(referral, offers));
        model.addAttribute("today", clock.today(current.id()));
        model.addAttribute("estimate", offers.anyone());
    }

    /** Whether it is a caution that leaves no day of those looked at. */
    private boolean forbidden(@Nullable Referral referral, Offers offers) {
        return referral != null
                && !suitability.allows(referral, referral.details().request().methodPlanned(), offers.from())
                && !suitability.allows(referral, referral.details().request().methodPlanned(), offers.to());
    }

    /** Whether the offer is where the appointment is already. */
    private boolean isThere(Appointment moved, Offer offer) {
        BookedPlace place = moved.place();
        return offer.place()
                .equals(new AskedPlace(
                        place.practitionerId(),
                        place.roomId(),
                        clock.local(current.id(), place.start()),
                        place.slotMinutes()));
    }

    /** The best of each session first, so that the few that are read aloud differ. */
    private static List<Offer> differing(List<Offer> offers) {
        Set<String> sessions = new HashSet<>();
        List<Offer> best = offers.stream()
                .filter(offer -> sessions.add(offer.session().key()))
                .limit(BEST)
                .toList();
        return best.size() == BEST ? best : offers.stream().limit(BEST).toList();
    }

    /** By date: how the method suits then. */
    private Map<LocalDate, Suitability> inForce(@Nullable Referral referral, List<Offer> offers) {
        if (referral == null) {
            return Map.of();
        }
        Method method = referral.details().request().methodPlanned();
        return offers.stream()
                .map(offer -> offer.session().date())
                .distinct()
                .collect(Collectors.toMap(Function.identity(), date -> suitability.judge(referral, method, date)));
    }

    /** By date, in words: what suits worse there than on the appointment's own date. */
    private Map<LocalDate, String> worse(Appointment moved, List<Offer> offers) {
        Map<LocalDate, String> said = new HashMap<>();
        offers.stream()
                .map(offer -> offer.session().date())
                .distinct()
                .forEach(date -> suitabilityCheck
                        .ifMoved(moved, date)
                        .ifPresent(worse -> said.put(date, worse.say(messages, "offers.worse"))));
        return said;
    }
}
