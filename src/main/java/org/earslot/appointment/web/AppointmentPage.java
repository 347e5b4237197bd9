package org.earslot.appointment.web;

import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.earslot.aftercare.FollowUps;
import org.earslot.aftercare.LetterKind;
import org.earslot.aftercare.web.OnwardForm;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.Booking;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.FoundCautions;
import org.earslot.booking.LocalClock;
import org.earslot.booking.SuitabilityCheck;
import org.earslot.booking.web.VisitKit;
import org.earslot.caution.Suitability;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.CurrentClinic;
import org.earslot.clinic.OtherVisitKind;
import org.earslot.clinic.OtherVisitKinds;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Room;
import org.earslot.clinic.Rooms;
import org.earslot.day.Findings;
import org.earslot.day.RedFlagNotices;
import org.earslot.day.SecondTry;
import org.earslot.day.web.FindingsChanges;
import org.earslot.day.web.FindingsForm;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.offers.WaitlistOffers;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.earslot.page.Refused;
import org.earslot.patient.Patients;
import org.earslot.referral.MethodSuitability;
import org.earslot.referral.Referrals;
import org.earslot.referral.SoftenerRule;
import org.earslot.visit.EarRecord;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The page of an appointment, shown again by whoever refuses something on it. */
@Component
class AppointmentPage {

    private final Appointments appointments;
    private final Visits visits;
    private final Patients patients;
    private final Practitioners practitioners;
    private final Rooms rooms;
    private final OtherVisitKinds kinds;
    private final Referrals referrals;
    private final MethodSuitability suitability;
    private final FollowUps followUps;
    private final FoundCautions found;
    private final OnwardForm onward;
    private final WaitlistOffers waitlistOffers;
    private final VisitKit visitKit;
    private final Booking booking;
    private final SuitabilityCheck suitabilityCheck;
    private final RedFlagNotices redFlags;
    private final Messages messages;
    private final CurrentClinic current;
    private final SoftenerRule softener;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;

    AppointmentPage(
            Appointments appointments,
            Visits visits,
            Patients patients,
            Practitioners practitioners,
            Rooms rooms,
            OtherVisitKinds kinds,
            Referrals referrals,
            MethodSuitability suitability,
            FollowUps followUps,
            FoundCautions found,
            OnwardForm onward,
            WaitlistOffers waitlistOffers,
            VisitKit visitKit,
            Booking booking,
            SuitabilityCheck suitabilityCheck,
            RedFlagNotices redFlags,
            Messages messages,
            CurrentClinic current,
            SoftenerRule softener,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.appointments = appointments;
        this.visits = visits;
        this.patients = patients;
        this.practitioners = practitioners;
        this.rooms = rooms;
        this.kinds = kinds;
        this.referrals = referrals;
        this.suitability = suitability;
        this.followUps = followUps;
        this.found = found;
        this.onward = onward;
        this.waitlistOffers = waitlistOffers;
        this.visitKit = visitKit;
        this.booking = booking;
        this.suitabilityCheck = suitabilityCheck;
        this.redFlags = redFlags;
        this.messages = messages;
        this.current = current;
        this.softener = softener;
        this.clock = clock;
        this.events = events;
    }

    Appointment appointment(UUID id) {
        return appointments.findByClinicIdAndId(current.id(), id).orElseThrow(() -> Refused.notFound("appointment"));
    }

    Optional<Visit> visit(Appointment appointment) {
        return appointment.visitId().flatMap(id -> visits.findByClinicIdAndId(current.id(), id));
    }

    String show(Model model, UUID id) {
        return show(model, id, Map.of(), Map.of());
    }

    /** Findings were typed while somebody else recorded some: names each difference. */
    String showChanged(Model model, UUID id, Map<String, String> typed) {
        Map<String, String> recorded =
                visit(appointment(id)).map(FindingsForm::recorded).orElse(Map.of());
        FindingsChanges compared = FindingsChanges.between(typed, recorded, messages);
        model.addAttribute("changes", compared.changes());
        return show(model, id, compared.values(), Map.of());
    }

    /** @param typed what was typed into a form that is refused @param problems by field */
    String show(Model model, UUID id, Map<String, String> typed, Map<String, Problem> problems) {
        UUID clinic = current.id();
        Appointment appointment = appointment(id);
        Optional<Visit> visit = visit(appointment);
        LocalDateTime start = clock.local(clinic, appointment.place().start());
        LocalClock times = LocalClock.of(appointment.times(), clock.zone(clinic));
        model.addAttribute("appointment", appointment);
        model.addAttribute("planned", appointment.planned());
        model.addAttribute("start", start);
        model.addAttribute("end", clock.local(clinic, appointment.place().end()));
        model.addAttribute("bookedAt", clock.local(clinic, appointment.bookedAt()));
        model.addAttribute("times", times);
        model.addAttribute("redFlag", redFlags.of(appointment).orElse(null));
        model.addAttribute(
                "redFlagsAsked",
                appointment.redFlagsAskedAt().map(at -> clock.local(clinic, at)).orElse(null));
        model.addAttribute("plausible", appointment.hasPlausibleTimes(clock.zone(clinic), clock.now()));
        model.addAttribute("mayUndo", booking.mayUndo(appointment, current.who()));
        model.addAttribute("isPast", appointment.place().start().isBefore(clock.now()));
        model.addAttribute("isToday", appointment.place().date().equals(clock.today(clinic)));
        model.addAttribute("visit", visit.orElse(null));
        model.addAttribute("findingsVersion", Findings.version(visit));
        model.addAttribute("ears", ears(appointment, visit));
        model.addAttribute("cancelledByWords", CancelledBy.values());
        model.addAttribute("lists", FindingsForm.LISTS);
        model.addAttribute("oftenFound", EarRecord.OFTEN_FOUND);
        model.addAttribute("alsoFound", EarRecord.ALSO_FOUND);
        after(model, appointment);
        names(model, appointment);
        Map<String, String> values = new HashMap<>(FindingsForm.showing(visit, times));
        values.putAll(typed);
        model.addAttribute("values", values);
        model.addAttribute("problems", problems);
        return "appointment/appointment";
    }

    /** What follows the visit, and how its method suits on its own date. */
    private void after(Model model, Appointment appointment) {
        UUID clinic = current.id();
        visitKit.show(model, appointment);
        model.addAttribute("gapOpen", waitlistOffers.open(appointment));
        model.addAttribute("next", followUps.next(appointment).orElse(null));
        model.addAttribute("letterKinds", letterKinds(appointment));
        onward.show(model, visit(appointment));
        model.addAttribute(
                "complications",
                visit(appointment)
                        .map(visit -> found.proposed(appointment, visit))
                        .orElse(List.of()));
        model.addAttribute(
                "steppedOut",
                appointment.steppedOut().map(at -> clock.local(clinic, at)).orElse(null));
        model.addAttribute(
                "backFrom",
                appointment
                        .steppedOut()
                        .map(at -> clock.local(clinic, at.plus(SecondTry.OUTSIDE)))
                        .orElse(null));
        model.addAttribute(
                "calledInAgain",
                appointment.calledInAgain().map(at -> clock.local(clinic, at)).orElse(null));
        Method method = appointment.planned().method();
        if (method != null) {
            appointment
                    .referralId()
                    .flatMap(id -> referrals.findByClinicIdAndId(clinic, id))
                    .ifPresent(referral -> {
                        Suitability suits = suitability.judge(
                                referral, method, appointment.place().date());
                        model.addAttribute("suits", suits);
                        model.addAttribute(
                                "suitsEars", referral.details().request().ears());
                        model.addAttribute("said", referral.details());
                        model.addAttribute(
                                "softener",
                                softener.advice(
                                        referral,
                                        referral.details().request().ears(),
                                        appointment.place().date()));
                        model.addAttribute(
                                "worse",
                                suitabilityCheck
                                        .sinceBooked(clinic, appointment.id())
                                        .filter(worse -> appointment.status().toCome())
                                        .map(worse -> worse.say(messages, "offers.worse.sinceBooked"))
                                        .orElse(null));
                        model.addAttribute("overruled", suitability.overridden(referral, suits));
                    });
        }
    }

    /** The letters that fit how the appointment stands. */
    private static List<LetterKind> letterKinds(Appointment appointment) {
        return switch (appointment.status()) {
            case CANCELLED ->
                appointment.cancelledBy().filter(CancelledBy.CLINIC::equals).isPresent()
                        ? List.of(LetterKind.CANCELLATION)
                        : List.of();
            case NOSHOW -> List.of(LetterKind.MISSED, LetterKind.NOT_BROUGHT, LetterKind.NOT_BROUGHT_REFERRER);
            case FULFILLED -> List.of(LetterKind.PATIENT, LetterKind.REFERRER);
            default -> appointment.status().toCome() ? List.of(LetterKind.CONFIRMATION) : List.of();
        };
    }

    void names(Model model, Appointment appointment) {
        UUID clinic = current.id();
        model.addAttribute(
                "practitionerName",
                practitioners
                        .findByClinicIdAndId(clinic, appointment.place().practitionerId())
                        .map(Practitioner::name)
                        .orElse("–"));
        model.addAttribute(
                "roomName",
                rooms.findByClinicIdAndId(clinic, appointment.place().roomId())
                        .map(Room::name)
                        .orElse("–"));
        UUID kind = appointment.planned().otherVisitKindId();
        model.addAttribute(
                "kindName",
                Optional.ofNullable(kind)
                        .flatMap(id -> kinds.findByClinicIdAndId(clinic, id))
                        .map(OtherVisitKind::name)
                        .orElse(null));
        appointment
                .patientId()
                .flatMap(id -> patients.findByClinicIdAndId(clinic, id))
                .ifPresent(patient -> {
                    model.addAttribute("patient", patient);
                    events.publishEvent(Audited.viewed(clinic, "appointment", List.of(patient.id())));
                });
    }

    /** The ears planned first, then one that was treated as well. */
    private static List<Ear> ears(Appointment appointment, Optional<Visit> visit) {
        Ears planned = appointment.planned().ears();
        List<Ear> ears = new ArrayList<>(planned == null ? List.of() : planned.each());
        visit.ifPresent(known -> Ears.BOTH.each().stream()
                .filter(ear -> !ears.contains(ear) && !known.methods(ear).isEmpty())
                .forEach(ears::add));
        return ears;
    }
}
