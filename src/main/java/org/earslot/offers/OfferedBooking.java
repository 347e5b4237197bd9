package org.earslot.offers;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.Booking;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRequest.OfReferral;
import org.earslot.booking.BookingResult;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.estimate.Estimate;
import org.earslot.offers.OfferTerms.OwnVisit;
import org.springframework.stereotype.Service;

/**
 * Books and moves into places as they are offered: none in which the session would end late more often than the clinic
 * accepts, none shorter than any offer, unless somebody has decided to book it all the same. Judged while the day is held,
 * so that two who book at once do not pass the limit together.
 */
@Service
public class OfferedBooking {

    private final Booking booking;
    private final WishedVisits visits;
    private final OfferedSessions sessions;
    private final OfferTermsReader terms;
    private final OfferRanking ranking;

    OfferedBooking(
            Booking booking,
            WishedVisits visits,
            OfferedSessions sessions,
            OfferTermsReader terms,
            OfferRanking ranking) {
        this.booking = booking;
        this.visits = visits;
        this.sessions = sessions;
        this.terms = terms;
        this.ranking = ranking;
    }

    /**
     * What was decided to be booked all the same.
     *
     * @param beyondLimit a place in a session that would end late more often than accepted
     * @param shorter a slot shorter than any that is offered
     */
    public record Anyway(boolean beyondLimit, boolean shorter) {

        /** At the desk a slot may be shorter: the person sees how long the visit takes. */
        public static Anyway atTheDesk(boolean beyondLimit) {
            return new Anyway(beyondLimit, true);
        }
    }

    /** @param who the sign-in name of whoever books */
    public BookingResult book(ClinicId clinicId, UUID referralId, AskedPlace place, Anyway decided, String who) {
        return booking.book(
                clinicId,
                new OfReferral(referralId, place),
                who,
                () -> refusal(clinicId, SlotWish.of(referralId), place, decided));
    }

    /** @param version the version that whoever asks has seen */
    public BookingResult move(ClinicId clinicId, UUID appointmentId, int version, AskedPlace place, Anyway decided) {
        return booking.move(
                clinicId,
                appointmentId,
                version,
                place,
                () -> refusal(clinicId, SlotWish.moving(appointmentId), place, decided));
    }

    /** The session of that name in the interface for programs: its origin and its date. */
    public Optional<ClinicSession> session(ClinicId clinicId, String key, LocalDate date) {
        return sessions.named(clinicId, key, date);
    }

    private Optional<BookingRefusal> refusal(ClinicId clinicId, SlotWish wish, AskedPlace place, Anyway decided) {
        WishedVisit visit = visits.find(clinicId, wish);
        UUID by = place.practitionerId();
        Estimate estimate = visits.estimates(visit, List.of(by)).get(by);
        OfferTerms now = terms.of(clinicId, wish, visit.said());
        OwnVisit own = now.own(visit, estimate);
        if (!decided.shorter() && place.slotMinutes() < own.least()) {
            return Optional.of(BookingRefusal.shorterThanOffered(place.slotMinutes(), own.least()));
        }
        return decided.beyondLimit()
                ? Optional.empty()
                : sessions.holding(clinicId, place)
                        .map(session -> ranking.lateEnd(clinicId, session, visit, own, now, place))
                        .filter(chance -> !now.limits().allow(chance))
                        .map(chance -> BookingRefusal.beyondLateEnds(
                                chance, now.limits().pastEnd()));
    }
}
