package org.earslot.diary;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.diary.BookingRefusal.NotNow;
import org.earslot.diary.BookingRefusal.Unknown;
import org.earslot.diary.SlotsFound.NotLooked;
import org.earslot.diary.SlotsFound.Offers;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.referral.Patient;
import org.earslot.referral.Patients;
import org.earslot.referral.Priority;
import org.earslot.referral.Referral;
import org.earslot.referral.ReferralDetails;
import org.earslot.referral.Referrals;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Finds free places of the right length, best first. */
@Service
public class Slots {

    /** How far it looks where nothing else is said. */
    public static final int WEEKS = 12;

    /** The most offers that are worked out. */
    public static final int MOST_OFFERS = 12;

    private final Referrals referrals;
    private final Patients patients;
    private final Appointments appointments;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final Sessions sessions;
    private final Estimates estimates;
    private final Planning planning;
    private final PlaceRules rules;
    private final ClinicClock clock;

    Slots(
            Referrals referrals,
            Patients patients,
            Appointments appointments,
            Practitioners practitioners,
            Rooms rooms,
            Sessions sessions,
            Estimates estimates,
            Planning planning,
            PlaceRules rules,
            ClinicClock clock) {
        this.referrals = referrals;
        this.patients = patients;
        this.appointments = appointments;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.sessions = sessions;
        this.estimates = estimates;
        this.planning = planning;
        this.rules = rules;
        this.clock = clock;
    }

    /** The free places that fit the wish; each can be booked at this moment. */
    @Transactional(readOnly = true)
    public SlotsFound search(UUID clinicId, SlotWish wish) {
        Optional<Appointment> moved =
                Optional.ofNullable(wish.appointmentId()).flatMap(id -> appointments.findByClinicIdAndId(clinicId, id));
        UUID referralId = moved.flatMap(Appointment::referralId).orElse(wish.referralId());
        Optional<Referral> referral =
                Optional.ofNullable(referralId).flatMap(id -> referrals.findByClinicIdAndId(clinicId, id));
        List<BookingRefusal> refusals = refusals(wish, moved, referral);
        if (!refusals.isEmpty()) {
            return new NotLooked(refusals);
        }
        return search(clinicId, wish, moved.orElse(null), referral.orElse(null));
    }

    /** The session of that name in the interface for programs: its origin and its date. */
    @Transactional(readOnly = true)
    public Optional<ClinicSession> session(UUID clinicId, String key, LocalDate date) {
        return sessions.on(clinicId, date).stream()
                .filter(session -> session.key().equals(key))
                .findFirst();
    }

    private List<BookingRefusal> refusals(SlotWish wish, Optional<Appointment> moved, Optional<Referral> referral) {
        if (wish.appointmentId() != null) {
            if (moved.isEmpty()) {
                return List.of(new Unknown("appointment"));
            }
            return moved.get().status().toCome()
                    ? List.of()
                    : List.of(new NotNow("move", moved.get().status()));
        }
        if (referral.isEmpty()) {
            return List.of(new Unknown("referral"));
        }
        return planning.standing(referral.get()).map(List::of).orElse(List.of());
    }

    private SlotsFound search(UUID clinicId, SlotWish wish, @Nullable Appointment moved, @Nullable Referral referral) {
        ReferralDetails said = referral == null ? null : referral.details();
        LocalDate today = clock.today(clinicId);
        LocalDate from = latest(today, wish.from(), said == null ? null : said.notBefore());
        LocalDate open = today.plus(PlaceRules.OPEN_AHEAD);
        LocalDate wanted = wish.to() == null ? from.plusWeeks(WEEKS) : wish.to();
        LocalDate to = earliest(open, wanted, said == null ? null : said.mustFollowBy());
        Method method = said != null
                ? said.methodPlanned()
                : moved == null ? null : moved.planned().method();
        Map<UUID, Practitioner> able = able(clinicId, wish, method);
        Map<UUID, Room> usable = rooms.findByClinicIdOrderByName(clinicId).stream()
                .filter(Room::active)
                .collect(Collectors.toMap(Room::id, Function.identity()));
        Map<LocalDate, Boolean> suits = new HashMap<>();
        List<ClinicSession> held = from.isAfter(to)
                ? List.of()
                : sessions.between(clinicId, from, to).stream()
                        .filter(session ->
                                able.containsKey(session.practitionerId()) && usable.containsKey(session.roomId()))
                        .filter(session -> suits.computeIfAbsent(
                                session.date(),
                                date -> referral == null
                                        || planning.unfit(referral, date).isEmpty()))
                        .toList();
        Map<UUID, Estimate> estimated = referral == null
                ? Map.of()
                : estimates(
                        referral,
                        held.stream()
                                .map(ClinicSession::practitionerId)
                                .distinct()
                                .toList());
        List<HeldPlace> booked = held.isEmpty() ? List.of() : appointments.findHeldPlaces(clinicId, from, to);
        OfferSearch search = new OfferSearch(
                rules.policy(clinicId),
                clock.local(clinicId, clock.now()),
                clock.zone(clinicId),
                said == null ? Priority.ROUTINE : said.priority(),
                new OfferSearch.Wanted(moved, estimated, method, wish.partOfDay()));
        List<Offer> best = search.best(held, booked, Math.min(MOST_OFFERS, wish.atMost())).stream()
                .map(found -> found.offer(
                        able.get(found.session().practitionerId()).name(),
                        usable.get(found.session().roomId()).name()))
                .toList();
        return new Offers(best, from, to, estimated, held.size());
    }

    private Map<UUID, Practitioner> able(UUID clinicId, SlotWish wish, @Nullable Method method) {
        return practitioners.findByClinicIdOrderByName(clinicId).stream()
                .filter(Practitioner::active)
                .filter(practitioner -> method == null || practitioner.methods().contains(method))
                .filter(practitioner ->
                        wish.practitionerId() == null || practitioner.id().equals(wish.practitionerId()))
                .collect(Collectors.toMap(Practitioner::id, Function.identity()));
    }

    private Map<UUID, Estimate> estimates(Referral referral, List<UUID> by) {
        Patient patient = patients.findByClinicIdAndId(referral.clinicId(), referral.patientId())
                .orElse(null);
        List<Estimate> each = estimates.estimateAll(
                referral.clinicId(),
                by.stream().map(id -> VisitPlans.of(referral, patient, id)).toList());
        List<UUID> practitionerIds = new ArrayList<>(by);
        return Stream.iterate(0, i -> i + 1)
                .limit(by.size())
                .collect(Collectors.toMap(practitionerIds::get, each::get));
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
