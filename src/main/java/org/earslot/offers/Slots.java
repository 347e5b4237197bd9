package org.earslot.offers;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.AskedPlace;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRefusal.NotNow;
import org.earslot.booking.BookingRefusal.Unknown;
import org.earslot.booking.HeldPlace;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.Planning;
import org.earslot.booking.PortableEquipment;
import org.earslot.booking.RowLocks;
import org.earslot.booking.VisitPlans;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.clinic.Sessions;
import org.earslot.day.DayLists;
import org.earslot.day.ListedVisit;
import org.earslot.day.ListedVisit.Promised;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.Estimates;
import org.earslot.estimate.habits.LearntPatterns;
import org.earslot.offers.OfferTerms.OwnVisit;
import org.earslot.offers.SlotsFound.NotLooked;
import org.earslot.offers.SlotsFound.Offers;
import org.earslot.patient.Patient;
import org.earslot.patient.PatientDetails;
import org.earslot.patient.Patients;
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

    /** How far it looks if nothing else is said. */
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
    private final LearntPatterns habits;
    private final DayLists dayLists;
    private final PortableEquipment units;
    private final SessionPlanCache sessionPlanCache;
    private final RowLocks locks;
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
            LearntPatterns habits,
            DayLists dayLists,
            PortableEquipment units,
            SessionPlanCache sessionPlanCache,
            RowLocks locks,
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
        this.habits = habits;
        this.dayLists = dayLists;
        this.units = units;
        this.sessionPlanCache = sessionPlanCache;
        this.locks = locks;
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

    /** The fewest minutes that a referral is offered for that place; empty if it cannot be booked there at all. */
    @Transactional(readOnly = true)
    public Optional<Integer> shortest(UUID clinicId, UUID referralId, AskedPlace place) {
        return referrals
                .findByClinicIdAndId(clinicId, referralId)
                .filter(referral -> planning.bookable(referral, place.date()).isEmpty())
                .map(referral -> {
                    ReferralDetails said = referral.details();
                    UUID by = place.practitionerId();
                    Estimate estimate = estimates(referral, List.of(by)).get(by);
                    OfferTerms terms = terms(clinicId, SlotWish.of(referralId), said);
                    return own(terms, null, said, said.request().methodPlanned(), estimate)
                            .least();
                });
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
                    ? planning.closedTo(
                                    moved.get().clinicId(),
                                    moved.get().patientId().orElse(null))
                            .map(List::of)
                            .orElse(List.of())
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
        LocalDate from =
                latest(today, wish.from(), said == null ? null : said.request().notBefore());
        LocalDate open = today.plus(PlaceRules.OPEN_AHEAD);
        LocalDate wanted = wish.to() == null ? from.plusWeeks(WEEKS) : wish.to();
        LocalDate to =
                earliest(open, wanted, said == null ? null : said.request().mustFollowBy());
        Method method = said != null
                ? said.request().methodPlanned()
                : moved == null ? null : moved.planned().method();
        Map<UUID, Practitioner> able = able(clinicId, wish, method);
        Map<UUID, Room> usable = rooms.findByClinicIdOrderByName(clinicId).stream()
                .filter(Room::active)
                .collect(Collectors.toMap(Room::id, Function.identity()));
        Optional<PatientDetails> person = Optional.ofNullable(moved)
                .flatMap(Appointment::patientId)
                .or(() -> Optional.ofNullable(referral).map(Referral::patientId))
                .flatMap(id -> patients.findByClinicIdAndId(clinicId, id))
                .map(Patient::details);
        Map<LocalDate, Boolean> suits = new HashMap<>();
        Set<LocalDate> closed = from.isAfter(to) ? Set.of() : locks.closed(clinicId, from, to);
        List<ClinicSession> held = from.isAfter(to)
                ? List.of()
                : sessions.between(clinicId, from, to).stream()
                        .filter(session ->
                                able.containsKey(session.practitionerId()) && usable.containsKey(session.roomId()))
                        .filter(session -> !closed.contains(session.date()))
                        .filter(session -> able.get(session.practitionerId())
                                .ages()
                                .includes(person.flatMap(one -> one.ageOn(session.date()))))
                        .filter(session -> suits.computeIfAbsent(
                                session.date(),
                                date -> referral == null
                                        || planning.unfit(referral, date).isEmpty()))
                        .toList();
        List<UUID> by =
                held.stream().map(ClinicSession::practitionerId).distinct().toList();
        Map<UUID, Estimate> estimated = referral == null ? Map.of() : estimates(referral, by);
        List<HeldPlace> booked = held.isEmpty() ? List.of() : appointments.findHeldPlaces(clinicId, from, to);
        OfferTerms terms = terms(clinicId, wish, said);
        Map<UUID, OwnVisit> own = by.stream()
                .collect(Collectors.toMap(
                        Function.identity(), id -> own(terms, moved, said, method, estimated.get(id))));
        OfferSearch search = new OfferSearch(
                terms,
                able.values().stream().collect(Collectors.toMap(Practitioner::id, Practitioner::methods)),
                own,
                new EquipmentConflicts(units.of(clinicId), method),
                sessionPlanCache);
        UUID self = moved == null ? null : moved.id();
        List<Offer> best = search
                .best(held, booked, self, underWay(clinicId, held, self, terms), Math.min(MOST_OFFERS, wish.atMost()))
                .stream()
                .map(found -> found.offer(
                        able.get(found.session().practitionerId()).name(),
                        usable.get(found.session().roomId()).name(),
                        isLast(found, booked, self, terms)))
                .toList();
        return new Offers(best, from, to, estimated, held.size());
    }

    private OfferTerms terms(UUID clinicId, SlotWish wish, @Nullable ReferralDetails said) {
        return new OfferTerms(
                rules.policy(clinicId),
                rules.costs(clinicId),
                rules.offersWeighList(clinicId),
                habits.of(clinicId),
                clock.local(clinicId, clock.now()),
                clock.zone(clinicId),
                said == null ? Priority.ROUTINE : said.request().priority(),
                wish.partOfDay());
    }

    /** As estimated; if nothing was, the moved appointment's own slot, kept as it is. */
    private static OwnVisit own(
            OfferTerms terms,
            @Nullable Appointment moved,
            @Nullable ReferralDetails said,
            @Nullable Method method,
            @Nullable Estimate estimate) {
        if (estimate != null && said != null) {
            Promised promised =
                    ListedVisit.promised(method, estimate.promised(), estimate.slotMinutes(), terms.policy());
            int beyond = method == null
                    ? 0
                    : terms.policy().slotAdjustments().of(method, said.request().ears());
            return terms.wax(
                    promised, estimate.slotMinutes(), beyond, said.request().firstVisit());
        }
        if (moved == null) {
            throw new IllegalStateException("neither an estimate nor an appointment says how long");
        }
        int slot = moved.place().slotMinutes();
        return new OwnVisit(
                ListedVisit.promised(moved.planned(), slot, terms.policy()), slot, slot, 0, Answer.NOT_KNOWN);
    }

    /** Today's lists of the sessions that have begun, as they are now. */
    private Map<String, List<ListedVisit>> underWay(
            UUID clinicId, List<ClinicSession> held, @Nullable UUID except, OfferTerms terms) {
        Map<String, List<ListedVisit>> begun = new HashMap<>();
        LocalDate today = terms.now().toLocalDate();
        for (ClinicSession session : held) {
            if (session.date().equals(today)) {
                DayLists.Day day = dayLists.of(clinicId, today, session.practitionerId());
                List<ListedVisit> listed = day.held().stream()
                        .filter(session::equals)
                        .flatMap(same -> day.in(same).stream())
                        .filter(visit -> !visit.id().equals(except))
                        .toList();
                if (RunningSessionOffers.hasBegun(session, listed, terms.now().toLocalTime())) {
                    begun.put(session.key(), listed);
                }
            }
        }
        return begun;
    }

    private static boolean isLast(
            OfferSearch.Found found, List<HeldPlace> booked, @Nullable UUID except, OfferTerms terms) {
        ClinicSession session = found.session();
        return booked.stream()
                .filter(held -> held.date().equals(session.date())
                        && held.practitionerId().equals(session.practitionerId())
                        && !held.id().equals(except))
                .map(held -> LocalDateTime.ofInstant(held.start(), terms.zone()).toLocalTime())
                .noneMatch(start -> start.isAfter(found.start())
                        && start.isBefore(session.span().to()));
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
