package org.earslot.offers;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.Planning;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.estimate.Estimate;
import org.earslot.offers.OfferTerms.OwnVisit;
import org.earslot.offers.SlotsFound.NotLooked;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Finds free places of the right length, best first. */
@Service
public class Slots {

    /** How far it looks if nothing else is said. */
    public static final int WEEKS = 12;

    /** The most offers that are worked out. */
    public static final int MOST_OFFERS = 12;

    private final WishedVisits visits;
    private final OfferedSessions sessions;
    private final OfferTermsReader terms;
    private final OfferRanking ranking;
    private final Planning planning;

    Slots(
            WishedVisits visits,
            OfferedSessions sessions,
            OfferTermsReader terms,
            OfferRanking ranking,
            Planning planning) {
        this.visits = visits;
        this.sessions = sessions;
        this.terms = terms;
        this.ranking = ranking;
        this.planning = planning;
    }

    /** The free places that fit the wish; each can be booked at this moment. */
    @Transactional(readOnly = true)
    public SlotsFound search(ClinicId clinicId, SlotWish wish) {
        WishedVisit visit = visits.find(clinicId, wish);
        List<BookingRefusal> refusals = refusals(wish, visit);
        return refusals.isEmpty() ? search(clinicId, wish, visit) : new NotLooked(refusals);
    }

    /** The session of that name in the interface for programs: its origin and its date. */
    @Transactional(readOnly = true)
    public Optional<ClinicSession> session(ClinicId clinicId, String key, LocalDate date) {
        return sessions.named(clinicId, key, date);
    }

    private List<BookingRefusal> refusals(SlotWish wish, WishedVisit visit) {
        Appointment moved = visit.moved();
        Referral referral = visit.referral();
        Optional<BookingRefusal> refusal;
        if (wish.appointmentId() != null) {
            if (moved == null) {
                return List.of(BookingRefusal.unknown("appointment"));
            }
            refusal = moved.status().toCome()
                    ? planning.closedTo(moved.clinicId(), moved.patientId().orElse(null))
                    : Optional.of(BookingRefusal.notNow("move", moved.status()));
        } else {
            refusal = referral == null ? Optional.of(BookingRefusal.unknown("referral")) : planning.standing(referral);
        }
        return refusal.map(List::of).orElse(List.of());
    }

    private SlotsFound search(ClinicId clinicId, SlotWish wish, WishedVisit visit) {
        ReferralDetails said = visit.said();
        LocalDate today = terms.today(clinicId);
        LocalDate from =
                latest(today, wish.from(), said == null ? null : said.request().notBefore());
        LocalDate open = today.plus(PlaceRules.OPEN_AHEAD);
        LocalDate wanted = wish.to() == null ? from.plusWeeks(WEEKS) : wish.to();
        LocalDate to =
                earliest(open, wanted, said == null ? null : said.request().mustFollowBy());
        OfferedSessions.Found found = sessions.find(clinicId, wish, visit, visit.method(), from, to);
        Map<UUID, Estimate> estimated = visits.estimates(visit, found.practitioners());
        OfferTerms now = terms.of(clinicId, wish, said);
        Map<UUID, OwnVisit> own = found.practitioners().stream()
                .collect(Collectors.toMap(Function.identity(), id -> now.own(visit, estimated.get(id))));
        int most = Math.min(MOST_OFFERS, wish.atMost());
        List<Offer> best = ranking.best(clinicId, found, visit, own, now, from, to, most);
        return new Offers(
                best,
                from,
                to,
                estimated,
                found.held().size(),
                visits.anyone(visit),
                now.policy().acceptedOvertimeShare());
    }

    private static LocalDate latest(LocalDate first, @Nullable LocalDate... others) {
        return Stream.concat(Stream.of(first), Stream.of(others).filter(Objects::nonNull))
                .max(LocalDate::compareTo)
                .orElse(first);
    }

    private static LocalDate earliest(LocalDate first, @Nullable LocalDate... others) {
        return Stream.concat(Stream.of(first), Stream.of(others).filter(Objects::nonNull))
                .min(LocalDate::compareTo)
                .orElse(first);
    }
}
