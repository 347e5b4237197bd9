package org.earslot.diary;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.TimeSpan;
import org.earslot.diary.SlotWish.PartOfDay;
import org.earslot.diary.SlotsFound.Offers;
import org.earslot.ear.Answer;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.Priority;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralPolicies;
import org.earslot.referral.ReferralStatus;
import org.earslot.referral.Referrals;
import org.springframework.data.domain.Limit;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Offers a place that has come free to those who wait and whose visit fits it, best fit first. */
@Service
public class Gaps {

    /** So many of those who wait longest are looked at. */
    private static final Limit LOOKED_AT = Limit.of(200);
    /** So many are tried in the list itself. */
    private static final int TRIED = 30;
    /** So many are shown. */
    private static final int SHOWN = 8;

    private final Appointments appointments;
    private final Referrals referrals;
    private final Patients patients;
    private final Practitioners practitioners;
    private final ReferralPolicies policies;
    private final Planning planning;
    private final Estimates estimates;
    private final Slots slots;
    private final ClinicClock clock;

    Gaps(
            Appointments appointments,
            Referrals referrals,
            Patients patients,
            Practitioners practitioners,
            ReferralPolicies policies,
            Planning planning,
            Estimates estimates,
            Slots slots,
            ClinicClock clock) {
        this.appointments = appointments;
        this.referrals = referrals;
        this.patients = patients;
        this.practitioners = practitioners;
        this.policies = policies;
        this.planning = planning;
        this.estimates = estimates;
        this.slots = slots;
        this.clock = clock;
    }

    /**
     * Someone whose visit fits.
     *
     * @param offer where, and what it does to the list
     * @param leftMinutes of the gap that stay free, at least 0
     * @param askNotice whether it must be asked if so short a notice is possible
     */
    public record Fit(Patient patient, Referral referral, Offer offer, long leftMinutes, boolean askNotice) {}

    /**
     * Those who fit the place that a cancelled or missed appointment has left, best first: urgent before soon before
     * routine; of those, whoever can surely come at such notice; then whoever leaves least of the gap unused and costs the
     * list least (minutes unused and minutes of wait added count alike: the project's own assumption); then who waits
     * longest. Nobody where the place is taken or over.
     */
    @Transactional(readOnly = true)
    public List<Fit> fits(UUID clinicId, UUID appointmentId) {
        Optional<Appointment> gone =
                appointments.findByClinicIdAndId(clinicId, appointmentId).filter(one -> open(one));
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
        UUID clinicId = gone.clinicId();
        BookedPlace place = gone.place();
        Optional<Practitioner> practitioner = practitioners.findByClinicIdAndId(clinicId, place.practitionerId());
        long notice = ChronoUnit.DAYS.between(clock.today(clinicId), place.date());
        boolean shortNotice = notice <= policies.of(clinicId).shortNoticeDays();
        List<Referral> waiting = referrals
                .standingAt(
                        clinicId,
                        List.of(ReferralStatus.READY_TO_BOOK.code(), ReferralStatus.WAITING.code()),
                        LOOKED_AT)
                .stream()
                .filter(one -> !Optional.of(one.id()).equals(gone.referralId()))
                .filter(one -> practitioner
                        .filter(who -> who.methods().contains(one.details().methodPlanned()))
                        .isPresent())
                .filter(one -> !shortNotice || one.details().shortNotice() != Answer.NO)
                .filter(one -> planning.bookable(one, place.date()).isEmpty())
                .toList();
        List<Fit> fits = new ArrayList<>();
        for (Referral referral : tried(gone, waiting)) {
            offer(gone, referral)
                    .ifPresent(offer -> fits.add(new Fit(
                            patients.findByClinicIdAndId(clinicId, referral.patientId())
                                    .orElseThrow(),
                            referral,
                            offer,
                            Math.max(0, place.slotMinutes() - offer.slotMinutes()),
                            shortNotice && referral.details().shortNotice() == Answer.NOT_KNOWN)));
        }
        return fits.stream().sorted(BEST_FIRST).limit(SHOWN).toList();
    }

    private static final Comparator<Fit> BEST_FIRST = Comparator.comparing(
                    (Fit fit) -> fit.referral().details().priority(), Comparator.<Priority>reverseOrder())
            .thenComparing(Fit::askNotice)
            .thenComparingDouble(fit -> fit.leftMinutes() + fit.offer().addedWaitMinutes())
            .thenComparing(fit -> fit.referral().details().receivedOn());

    /** Those whose length comes nearest to the gap's, urgent ones in any case; trying is dear. */
    private List<Referral> tried(Appointment gone, List<Referral> waiting) {
        UUID clinicId = gone.clinicId();
        List<Estimate> each = estimates.estimateAll(
                clinicId,
                waiting.stream()
                        .map(one -> VisitPlans.of(
                                one,
                                patients.findByClinicIdAndId(clinicId, one.patientId())
                                        .orElse(null),
                                gone.place().practitionerId()))
                        .toList());
        record Sized(Referral referral, int off) {}
        List<Sized> sized = new ArrayList<>();
        for (int i = 0; i < waiting.size(); i++) {
            sized.add(new Sized(
                    waiting.get(i),
                    Math.abs(gone.place().slotMinutes() - each.get(i).slotMinutes())));
        }
        return sized.stream()
                .sorted(Comparator.comparing(
                                (Sized one) -> one.referral().details().priority() == Priority.ROUTINE)
                        .thenComparingInt(Sized::off))
                .limit(TRIED)
                .map(Sized::referral)
                .toList();
    }

    /** A free place for the referral in the free stretch that the gap has become part of, nearest to it. */
    private Optional<Offer> offer(Appointment gone, Referral referral) {
        BookedPlace place = gone.place();
        LocalDate date = place.date();
        LocalDateTime from = clock.local(gone.clinicId(), place.start());
        LocalDateTime to = clock.local(gone.clinicId(), place.end());
        SlotsFound found = slots.search(
                gone.clinicId(),
                new SlotWish(
                        referral.id(), null, date, date, place.practitionerId(), PartOfDay.ANY, Slots.MOST_OFFERS));
        if (!(found instanceof Offers offers)) {
            return Optional.empty();
        }
        List<HeldPlace> held = appointments.findHeldPlaces(gone.clinicId(), date, date).stream()
                .filter(other -> other.practitionerId().equals(place.practitionerId()) && !other.fitIn())
                .toList();
        return offers.best().stream()
                .filter(offer -> sameStretch(gone.clinicId(), offer, from, to, held))
                .min(Comparator.comparingLong(offer ->
                        Math.abs(ChronoUnit.MINUTES.between(from, offer.place().start()))));
    }

    /** Whether nothing is booked, and no break lies, between the offer and the gap: both are one free stretch then. */
    private boolean sameStretch(
            UUID clinicId, Offer offer, LocalDateTime from, LocalDateTime to, List<HeldPlace> held) {
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
