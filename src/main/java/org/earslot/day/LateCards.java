package org.earslot.day;

import static org.earslot.booking.BookingRefusalCode.RED_FLAGS_NOT_ASKED;

import java.time.Duration;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.BookingRefusal;
import org.earslot.booking.BookingRequest.OfFitIn;
import org.earslot.booking.PlaceRules;
import org.earslot.booking.Planning;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.policy.ListCosts;
import org.earslot.clinic.policy.Policies;
import org.earslot.clinic.policy.Policy;
import org.earslot.day.LateCard.Choice;
import org.earslot.day.LateCard.Delay;
import org.earslot.day.LateCard.Turn;
import org.earslot.day.ListedVisit.EstimatedLength;
import org.earslot.flow.list.DayList;
import org.earslot.flow.list.Place;
import org.earslot.flow.list.Stage;
import org.earslot.flow.plan.CallInChoices;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.PlanChange;
import org.earslot.flow.run.Projection;
import org.earslot.minutes.FixedMinutes;
import org.earslot.patient.Patient;
import org.earslot.patient.Patients;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Works out the late or walk-in card by the projection of the list as it runs. */
@Service
public class LateCards {

    private static final String WALK_IN = "walk-in";

    /** Smaller changes are not worth a word. */
    private static final double LEAST_MINUTES = 0.5;

    private final DayLists lists;
    private final Planning planning;
    private final PlaceRules rules;
    private final Appointments appointments;
    private final Patients patients;
    private final Policies policies;
    private final ClinicClock clock;

    LateCards(
            DayLists lists,
            Planning planning,
            PlaceRules rules,
            Appointments appointments,
            Patients patients,
            Policies policies,
            ClinicClock clock) {
        this.lists = lists;
        this.planning = planning;
        this.rules = rules;
        this.appointments = appointments;
        this.patients = patients;
        this.policies = policies;
        this.clock = clock;
    }

    /** For a patient of the list who is here, or has said to come late; empty where nobody like that is, or the day is not running. */
    @Transactional(readOnly = true)
    public Optional<LateCard> ofLate(ClinicId clinicId, UUID appointmentId) {
        Optional<Appointment> found = appointments
                .findByClinicIdAndId(clinicId, appointmentId)
                .filter(each -> each.status().present()
                        || (each.status().toCome() && each.comesAt().isPresent()));
        if (found.isEmpty()) {
            return Optional.empty();
        }
        BookedPlace place = found.get().place();
        DayLists.Day day = lists.of(clinicId, place.date(), place.practitionerId());
        return day.visits().stream()
                .filter(each -> each.id().equals(appointmentId) && each.plausible())
                .findFirst()
                .flatMap(visit -> running(day, DaySchedules.sessionOf(visit, day.held()))
                        .map(list -> {
                            Place patient = list.places().get(list.indexOf(appointmentId.toString()));
                            LocalTime arrived = visit.times().arrived();
                            return card(
                                    clinicId,
                                    day,
                                    list,
                                    patient,
                                    appointmentId,
                                    visit.booked(),
                                    arrived == null ? comes(day, found.get()) : arrived);
                        }));
    }

    private LocalTime comes(DayLists.Day day, Appointment late) {
        LocalTime now = day.now().toLocalTime();
        return late.comesAt()
                .map(at -> clock.local(late.clinicId(), at).toLocalTime())
                .filter(at -> at.isAfter(now))
                .orElse(now);
    }

    /** The card of a walk-in, or why there is none; neither where the session's list does not run now. */
    public record WalkIn(Optional<LateCard> card, List<BookingRefusal> refusals) {}

    /** For one who walks in now and has no place. */
    @Transactional(readOnly = true)
    public WalkIn ofWalkIn(ClinicId clinicId, OfFitIn wish, ClinicSession session) {
        Planning.Planned planned = planning.plan(clinicId, wish);
        // The card itself asks the red flags.
        List<BookingRefusal> refusals = new ArrayList<>(planned.refusals().stream()
                .filter(refusal -> refusal.why() != RED_FLAGS_NOT_ASKED)
                .toList());
        refusals.addAll(rules.brokenByFitIn(clinicId, planned.place(), planned.visit()));
        if (!refusals.isEmpty()) {
            return new WalkIn(Optional.empty(), refusals);
        }
        DayLists.Day day = lists.of(clinicId, session.date(), session.practitionerId());
        LocalTime now = day.now().toLocalTime();
        EstimatedLength estimated =
                ListedVisit.estimated(planned.agreed(), planned.place().slotMinutes(), day.policy());
        Place patient =
                Place.fitIn(WALK_IN, now, estimated.inRoom()).withTurnaround(new FixedMinutes(estimated.turnaround()));
        Optional<ClinicSession> held = day.held().stream()
                .filter(each -> each.key().equals(session.key()))
                .findFirst();
        return new WalkIn(
                running(day, held.orElse(null))
                        .map(list -> card(clinicId, day, list, patient, null, null, now)
                                .of(initials(clinicId, planned.agreed().patientId()))),
                List.of());
    }

    /** The list of the session as it runs at this minute; empty on another day than today. */
    private static Optional<DayList> running(DayLists.Day day, @Nullable ClinicSession session) {
        if (session == null || !session.date().equals(day.now().toLocalDate())) {
            return Optional.empty();
        }
        List<ListedVisit> coming = SessionProjector.coming(day.in(session));
        return Optional.of(
                SessionProjector.list(session, coming, day.policy(), day.now().toLocalTime()));
    }

    private LateCard card(
            ClinicId clinicId,
            DayLists.Day day,
            DayList list,
            Place patient,
            @Nullable UUID appointmentId,
            @Nullable LocalTime booked,
            LocalTime arrived) {
        LocalTime now = day.now().toLocalTime();
        LocalTime from = arrived.isAfter(now) ? arrived : now;
        Place here = patient.stage() instanceof Stage.Present ? patient : patient.at(new Stage.Present(arrived));
        CallInChoices choices = CallInChoices.of(list, here, costs(clinicId));
        Map<String, Named> names = names(clinicId, day);
        return new LateCard(
                appointmentId,
                appointmentId == null ? "" : names.get(appointmentId.toString()).initials(),
                booked,
                arrived,
                arrived.isAfter(now),
                List.of(
                        choice(Turn.NOW, choices.seeNow(), here.name(), names, from),
                        choice(Turn.AFTER_NEXT, choices.afterNext(), here.name(), names, from),
                        new Choice(Turn.REBOOK, null, 0, List.of(), 0, 0)));
    }

    private static Choice choice(
            Turn turn, PlanChange change, String patient, Map<String, Named> names, LocalTime from) {
        Projection.Visit own = change.after().visit(patient);
        LocalTime starts = own.starts() == null ? from : own.starts().median();
        List<Delay> delays = new ArrayList<>();
        for (PlanChange.Effect effect : change.effects()) {
            Named named = names.get(effect.name());
            if (named != null && Math.abs(effect.laterMinutes()) >= LEAST_MINUTES) {
                delays.add(new Delay(named.initials(), named.start(), Math.round(effect.laterMinutes())));
            }
        }
        return new Choice(
                turn,
                starts.truncatedTo(ChronoUnit.MINUTES),
                Math.max(0, Duration.between(from, starts).toMinutes()),
                delays,
                Math.round(change.addedWaitMinutes()),
                Math.round(100 * change.addedPastEnd()));
    }

    private record Named(String initials, LocalTime start) {}

    private Map<String, Named> names(ClinicId clinicId, DayLists.Day day) {
        Map<UUID, Patient> known = patients
                .findByClinicIdAndIdIn(
                        clinicId,
                        day.appointments().stream()
                                .flatMap(each -> each.patientId().stream())
                                .toList())
                .stream()
                .collect(Collectors.toMap(Patient::id, Function.identity()));
        Map<UUID, LocalTime> starts =
                day.visits().stream().collect(Collectors.toMap(ListedVisit::id, ListedVisit::from));
        return day.appointments().stream()
                .collect(Collectors.toMap(
                        each -> each.id().toString(),
                        each -> new Named(
                                each.patientId()
                                        .map(known::get)
                                        .map(Patient::initials)
                                        .orElse("–"),
                                starts.get(each.id()))));
    }

    private String initials(ClinicId clinicId, @Nullable UUID patientId) {
        return patientId == null
                ? "–"
                : patients.findByClinicIdAndId(clinicId, patientId)
                        .map(Patient::initials)
                        .orElse("–");
    }

    private Costs costs(ClinicId clinicId) {
        ListCosts set = policies.findById(clinicId).map(Policy::costs).orElse(ListCosts.STARTING);
        return new Costs(set.waitMinute(), set.idleMinute(), set.overtimeMinute());
    }
}
