package org.earslot.offers.web;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.SuitabilityCheck;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.offers.Offer;
import org.earslot.offers.SlotWish;
import org.earslot.offers.Slots;
import org.earslot.offers.SlotsFound;
import org.earslot.offers.SlotsFound.NotLooked;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.earslot.referral.SoftenerRule;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The page of the offers, shown again by whoever refuses a booking. */
@Component
public class SlotPage {

    /** Few enough to be read aloud. */
    private static final int BEST = 5;

    private final Slots slots;
    private final Referrals referrals;
    private final Patients patients;
    private final Appointments appointments;
    private final Practitioners practitioners;
    private final CurrentClinic current;
    private final SoftenerRule softener;
    private final ClinicClock clock;
    private final SuitabilityCheck suitabilityCheck;
    private final MethodSuitability suitability;
    private final Messages messages;
    private final ApplicationEventPublisher events;

    SlotPage(
            Slots slots,
            Referrals referrals,
            Patients patients,
            Appointments appointments,
            Practitioners practitioners,
            CurrentClinic current,
            SoftenerRule softener,
            ClinicClock clock,
            SuitabilityCheck suitabilityCheck,
            MethodSuitability suitability,
            Messages messages,
            ApplicationEventPublisher events) {
        this.slots = slots;
        this.referrals = referrals;
        this.patients = patients;
        this.appointments = appointments;
        this.practitioners = practitioners;
        this.current = current;
        this.softener = softener;
        this.clock = clock;
        this.suitabilityCheck = suitabilityCheck;
        this.suitability = suitability;
        this.messages = messages;
        this.events = events;
    }

    public String show(
            Model model, @Nullable UUID referralId, @Nullable UUID appointmentId, Map<String, String> typed) {
        UUID clinic = current.id();
        Optional<Appointment> moved = Optional.ofNullable(appointmentId)
                .map(id -> appointments
                        .findByClinicIdAndId(clinic, id)
                        .orElseThrow(() -> Refused.notFound("appointment")));
        UUID asked = moved.flatMap(Appointment::referralId).orElse(referralId);
        Optional<Referral> referral = Optional.ofNullable(asked)
                .map(id -> referrals.findByClinicIdAndId(clinic, id).orElseThrow(() -> Refused.notFound("referral")));
        SlotForm form = new SlotForm(typed);
        Reading reading = new Reading();
        Optional<SlotWish> wish =
                form.wish(moved.isPresent() ? null : asked, appointmentId, clock.today(clinic), reading);
        model.addAttribute("form", form);
        model.addAttribute("problems", reading.byField());
        model.addAttribute("referral", referral.orElse(null));
        model.addAttribute("said", referral.map(Referral::details).orElse(null));
        model.addAttribute(
                "softener",
                referral.map(one -> softener.advice(one, one.details().request().ears(), clock.today(clinic)))
                        .orElse(null));
        model.addAttribute(
                "unknownCautions", referral.map(suitability::unknownCautions).orElse(List.of()));
        model.addAttribute("moved", moved.orElse(null));
        model.addAttribute(
                "movedAt",
                moved.map(one -> clock.local(clinic, one.place().start())).orElse(null));
        Optional<Patient> person = patient(moved, referral).flatMap(id -> patients.findByClinicIdAndId(clinic, id));
        model.addAttribute("practitioners", able(referral.orElse(null), person));
        person.ifPresent(patient -> {
            model.addAttribute("patient", patient);
            events.publishEvent(Audited.viewed(clinic, "slots", List.of(patient.id())));
        });
        wish.ifPresent(wanted -> found(model, slots.search(clinic, wanted), referral.orElse(null), moved.orElse(null)));
        return "offers/slots";
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

    private void found(Model model, SlotsFound found, @Nullable Referral referral, @Nullable Appointment moved) {
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
        List<Offer> best = differing(elsewhere);
        model.addAttribute("offers", best);
        model.addAttribute(
                "more",
                elsewhere.stream().filter(offer -> !best.contains(offer)).toList());
        model.addAttribute("words", new OfferWords(messages));
        model.addAttribute("worse", moved == null ? Map.of() : worse(moved, offers.best()));
        model.addAttribute("found", offers);
        model.addAttribute("contraindicated", offers.sessions() == 0 && forbidden(referral, offers));
        model.addAttribute("today", clock.today(current.id()));
        if (!best.isEmpty()) {
            model.addAttribute(
                    "estimate", offers.estimates().get(best.get(0).session().practitionerId()));
        }
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

    /** Those trained in the method who see this age on a day that is looked at. */
    private List<Practitioner> able(@Nullable Referral referral, Optional<Patient> person) {
        LocalDate today = clock.today(current.id());
        List<Optional<Integer>> ages = Stream.of(today, today.plusWeeks(Slots.WEEKS))
                .map(day -> person.flatMap(one -> one.details().ageOn(day)))
                .toList();
        return practitioners.findByClinicIdOrderByName(current.id()).stream()
                .filter(Practitioner::active)
                .filter(one -> referral == null
                        || one.methods().contains(referral.details().request().methodPlanned()))
                .filter(one -> ages.stream().anyMatch(one.ages()::includes))
                .toList();
    }

    private static Optional<UUID> patient(Optional<Appointment> moved, Optional<Referral> referral) {
        return moved.flatMap(Appointment::patientId).or(() -> referral.map(Referral::patientId));
    }
}
