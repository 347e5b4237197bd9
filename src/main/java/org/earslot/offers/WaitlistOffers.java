package org.earslot.offers;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.HeldPlace;
import org.earslot.booking.VisitPlans;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.TimeSpan;
import org.earslot.ear.Answer;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.kit.KitForecast;
import org.earslot.kit.KitLack;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.patient.Patient;
import org.earslot.referral.Priority;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralPolicies;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Offers a place that has come free to those who wait and whose visit fits it, best fit first. */
@Service
public class WaitlistOffers {

    /** So many are tried in the list itself. */
    private static final int TRIED = 30;
    /** So many are shown. */
    private static final int SHOWN = 10;
    /** To move someone costs a call more and leaves another gap: as much as so many minutes, the project's own assumption. */
    private static final int MOVED = 10;

    private final Appointments appointments;
    private final ReferralPolicies policies;
    private final WaitlistEntries seekers;
    private final Estimates estimates;
    private final Slots slots;
    private final KitForecast kit;
    private final ClinicClock clock;

    WaitlistOffers(
            Appointments appointments,
            ReferralPolicies policies,
            WaitlistEntries seekers,
            Estimates estimates,
            Slots slots,
            KitForecast kit,
            ClinicClock clock) {
        this.appointments = appointments;
        this.policies = policies;
        this.seekers = seekers;
        this.estimates = estimates;
        this.slots = slots;
        this.kit = kit;
        this.clock = clock;
    }

    /**
     * Someone whose visit fits.
     *
     * @param booked the later appointment that would be moved here; null for one who waits for any
     * @param offer where, and what it does to the list
     * @param leftMinutes of the gap that stay free, at least 0
     * @param askNotice whether it must be asked if so short a notice is possible
     * @param lacks what kit the visit would not find, or would take from another
     * @param gaveUp whether it is this patient who gave the place up
     */
    public record Fit(
            Patient patient,
            Referral referral,
            @Nullable Appointment booked,
            Offer offer,
            long leftMinutes,
            boolean askNotice,
            List<KitLack> lacks,
            boolean gaveUp) {

        public Fit {
            lacks = List.copyOf(lacks);
        }

        private double minutes() {
            return leftMinutes + offer.addedWaitMinutes() + (booked == null ? 0 : MOVED);
        }
    }

    /**
     * Those who fit the place that a cancelled or missed appointment has left, best first: urgent before soon before
     * routine; of those, whoever lets the session end late no more often than accepted; then whoever finds all kit; then whoever did not give the place up; then whoever can surely come at such notice; then whoever leaves least of
     * the gap unused and costs the list least (minutes unused and minutes of wait added count alike: the project's own
     * assumption), those booked later with 10 minutes more; then who waits longest. Whoever would lack kit
     * is left out on the day itself. Nobody if the place is taken or over.
     */
    @Transactional(readOnly = true)
    public List<Fit> fits(ClinicId clinicId, UUID appointmentId) {
        Optional<Appointment> gone =
                appointments.findByClinicIdAndId(clinicId, appointmentId).filter(this::open);
        return gone.map(this::fits).orElse(List.of());
    }

    /** Whether an appointment has left a place that can still be filled. */
    public boolean open(Appointment appointment) {
        boolean left = appointment.status() == AppointmentStatus.CANCELLED
                || appointment.status() == AppointmentStatus.NOSHOW
                || appointment.status() == AppointmentStatus.ENTERED_IN_ERROR;
        return left && !appointment.fitIn() && appointment.place().end().isAfter(clock.now());
    }

    private List<Fit> fits(Appointment gone) {
        LocalDate today = clock.today(gone.clinicId());
        LocalDate date = gone.place().date();
        boolean shortNotice = ChronoUnit.DAYS.between(today, date)
                <= policies.of(gone.clinicId()).shortNoticeDays();
        return tried(gone, seekers.of(gone, shortNotice)).stream()
                .flatMap(seeker -> fit(gone, seeker, shortNotice).stream())
                .filter(fit -> fit.lacks().isEmpty() || !date.equals(today))
                .sorted(BEST_FIRST)
                .limit(SHOWN)
                .toList();
    }

    private Optional<Fit> fit(Appointment gone, WaitlistEntry seeker, boolean shortNotice) {
        return offer(gone, seeker)
                .map(offer -> new Fit(
                        seeker.patient(),
                        seeker.referral(),
                        seeker.booked(),
                        offer,
                        Math.max(0, gone.place().slotMinutes() - offer.slotMinutes()),
                        shortNotice && seeker.shortNotice() == Answer.NOT_KNOWN,
                        kit.lacks(gone.clinicId(), offer.place(), seeker.method(), seeker.bookedId()),
                        gone.referralId().filter(seeker.referral().id()::equals).isPresent()));
    }

    private static final Comparator<Fit> BEST_FIRST = Comparator.comparing(
                    (Fit fit) -> fit.referral().details().request().priority(), Comparator.<Priority>reverseOrder())
            .thenComparing(fit -> !fit.offer().within())
            .thenComparing(fit -> !fit.lacks().isEmpty())
            .thenComparing(Fit::gaveUp)
            .thenComparing(Fit::askNotice)
            .thenComparingDouble(Fit::minutes)
            .thenComparing(fit -> fit.referral().details().source().receivedOn());

    /** Those whose length comes nearest to the gap's, urgent ones in any case; trying is dear. */
    private List<WaitlistEntry> tried(Appointment gone, List<WaitlistEntry> seekers) {
        List<Estimate> each = estimates.estimateAll(
                gone.clinicId(),
                seekers.stream()
                        .map(one -> VisitPlans.of(
                                one.referral(), one.patient(), gone.place().practitionerId()))
                        .toList());
        record Sized(WaitlistEntry seeker, int off) {}
        List<Sized> sized = new ArrayList<>();
        for (int i = 0; i < seekers.size(); i++) {
            int off = Math.abs(gone.place().slotMinutes() - each.get(i).slotMinutes());
            sized.add(new Sized(seekers.get(i), seekers.get(i).booked() == null ? off : off + MOVED));
        }
        return sized.stream()
                .sorted(Comparator.comparing((Sized one) -> one.seeker().priority() == Priority.ROUTINE)
                        .thenComparingInt(Sized::off))
                .limit(TRIED)
                .map(Sized::seeker)
                .toList();
    }

    /** A free place for the referral in the free stretch that the gap has become part of, nearest to it. */
    private Optional<Offer> offer(Appointment gone, WaitlistEntry seeker) {
        BookedPlace place = gone.place();
        LocalDate date = place.date();
        LocalDateTime from = clock.local(gone.clinicId(), place.start());
        LocalDateTime to = clock.local(gone.clinicId(), place.end());
        SlotsFound found = slots.search(
                gone.clinicId(),
                new SlotWish(
                        seeker.booked() == null ? seeker.referral().id() : null,
                        seeker.bookedId(),
                        date,
                        date,
                        place.practitionerId(),
                        PartOfDay.ANY,
                        Slots.MOST_OFFERS));
        if (!(found instanceof Offers offers)) {
            return Optional.empty();
        }
        List<HeldPlace> held = appointments.findHeldPlaces(gone.clinicId(), date, date).stream()
                .filter(other -> other.practitionerId().equals(place.practitionerId()) && !other.fitIn())
                .filter(other -> !other.id().equals(seeker.bookedId()))
                .toList();
        return offers.best().stream()
                .filter(offer -> sameStretch(gone.clinicId(), offer, from, to, held))
                .filter(offer -> seeker.booked() == null || isEarlier(offer, seeker.booked()))
                .min(Comparator.comparing((Offer offer) -> !offer.within())
                        .thenComparingLong(offer -> Math.abs(
                                ChronoUnit.MINUTES.between(from, offer.place().start()))));
    }

    private boolean isEarlier(Offer offer, Appointment booked) {
        LocalDateTime end = offer.place().start().plusMinutes(offer.slotMinutes());
        return !end.isAfter(clock.local(booked.clinicId(), booked.place().start()));
    }

    /** Whether nothing is booked, and no break lies, between the offer and the gap: both are one free stretch then. */
    private boolean sameStretch(
            ClinicId clinicId, Offer offer, LocalDateTime from, LocalDateTime to, List<HeldPlace> held) {
        LocalDateTime start = offer.place().start();
        LocalDateTime end = start.plusMinutes(offer.slotMinutes());
        LocalDateTime first = start.isBefore(from) ? start : from;
        LocalDateTime last = end.isAfter(to) ? end : to;
        boolean booked = held.stream().anyMatch(other -> {
            LocalDateTime begins = clock.local(clinicId, other.start());
            return begins.isBefore(last)
                    && begins.plusMinutes(other.slotMinutes()).isAfter(first);
        });
        boolean rest = offer.session()
                .pause()
                .map(pause -> pause.overlaps(new TimeSpan(first.toLocalTime(), last.toLocalTime())))
                .orElse(false);
        return !booked && !rest;
    }
}
