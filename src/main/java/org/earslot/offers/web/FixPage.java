package org.earslot.offers.web;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.booking.SuitabilityCheck;
import org.earslot.booking.web.PlaceForm;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedules;
import org.earslot.offers.DayFix;
import org.earslot.offers.FixEffect;
import org.earslot.offers.Move;
import org.earslot.offers.MoveEffect;
import org.earslot.offers.MoveEffects;
import org.earslot.offers.RescheduleProposals;
import org.earslot.page.Messages;
import org.earslot.page.Refused;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** What a fix of a day would do, shown before anybody makes it. */
@Component
class FixPage {

    /** Few enough to choose from. */
    private static final int OFFERS = 4;

    private final RescheduleProposals rescheduleProposals;
    private final MoveEffects effects;
    private final DaySchedules diaries;
    private final Appointments appointments;
    private final SuitabilityCheck suitabilityCheck;
    private final Messages messages;
    private final CurrentClinic current;
    private final ApplicationEventPublisher events;

    FixPage(
            RescheduleProposals rescheduleProposals,
            MoveEffects effects,
            DaySchedules diaries,
            Appointments appointments,
            SuitabilityCheck suitabilityCheck,
            Messages messages,
            CurrentClinic current,
            ApplicationEventPublisher events) {
        this.rescheduleProposals = rescheduleProposals;
        this.effects = effects;
        this.diaries = diaries;
        this.appointments = appointments;
        this.suitabilityCheck = suitabilityCheck;
        this.messages = messages;
        this.current = current;
        this.events = events;
    }

    /**
     * What is asked for.
     *
     * @param session the session to improve
     * @param appointment the one to move
     */
    record Wanted(
            DayFix fix, @Nullable String session, @Nullable UUID appointment) {}

    /** One way to do it. */
    public record Way(List<Move> shifts, MoveEffect effect) {

        /** The place asked for that visit. */
        public Move of(UUID appointmentId) {
            return shifts.stream()
                    .filter(shift -> shift.appointmentId().equals(appointmentId))
                    .findFirst()
                    .orElseThrow();
        }
    }

    /** @param asked the patients ticked as asked, if the form comes back */
    String show(Model model, LocalDate date, Wanted wanted, Set<String> asked) {
        PlaceForm.Days.check(date);
        if (wanted.session() == null && (wanted.appointment() == null || wanted.fix() != DayFix.MOVE)) {
            throw Refused.invalid("session", "", "offers.allowed.session");
        }
        List<Line> movable = movable(date, wanted);
        Optional<UUID> moved = Optional.ofNullable(wanted.appointment())
                .or(() -> movable.stream().map(Line::id).findFirst());
        List<Way> ways = ways(date, wanted, moved).stream()
                .map(shifts -> new Way(shifts, effects.of(current.id(), shifts)))
                .toList();
        model.addAttribute("date", date);
        model.addAttribute("fix", wanted.fix());
        model.addAttribute("sessionKey", wanted.session());
        model.addAttribute("appointment", wanted.fix() == DayFix.MOVE ? moved.orElse(null) : null);
        model.addAttribute("movable", movable);
        List<Line> leftOut = leftOut(date, wanted, moved);
        model.addAttribute("leftOut", leftOut);
        model.addAttribute("ways", ways);
        model.addAttribute("asked", asked);
        model.addAttribute("worse", worse(ways));
        seen(ways, Stream.concat(movable.stream(), leftOut.stream()).toList());
        return "offers/fix";
    }

    List<FixEffect> effects(LocalDate date, String session) {
        PlaceForm.Days.check(date);
        return rescheduleProposals.effects(current.id(), date, session);
    }

    /** By visit and date, in words: what suits worse there than on the visit's own date. */
    private Map<String, String> worse(List<Way> ways) {
        Map<String, String> said = new HashMap<>();
        ways.stream()
                .flatMap(way -> way.shifts().stream())
                .forEach(shift -> appointments
                        .findByClinicIdAndId(current.id(), shift.appointmentId())
                        .flatMap(one ->
                                suitabilityCheck.ifMoved(one, shift.place().date()))
                        .ifPresent(worse -> said.put(
                                shift.appointmentId() + " " + shift.place().date(),
                                worse.say(messages, "offers.worse"))));
        return said;
    }

    private List<List<Move>> ways(LocalDate date, Wanted wanted, Optional<UUID> moved) {
        ClinicId clinic = current.id();
        if (wanted.fix() == DayFix.MOVE) {
            return moved.map(id -> appointments
                            .findByClinicIdAndId(clinic, id)
                            .orElseThrow(() -> Refused.notFound("appointment")))
                    .filter(each -> each.status().toCome() && !each.fitIn())
                    .map(each -> rescheduleProposals.offers(clinic, each, OFFERS).stream()
                            .map(List::of)
                            .toList())
                    .orElse(List.of());
        }
        String key = Objects.requireNonNull(wanted.session());
        List<Move> shifts = wanted.fix() == DayFix.RETIME
                ? rescheduleProposals.retime(clinic, date, key)
                : rescheduleProposals.swap(clinic, date, key);
        return shifts.isEmpty() ? List.of() : List.of(shifts);
    }

    private List<Line> movable(LocalDate date, Wanted wanted) {
        if (wanted.fix() != DayFix.MOVE || wanted.session() == null) {
            return List.of();
        }
        List<Line> lines = diaries.of(current.id(), date).lines().toList();
        return rescheduleProposals.toMove(current.id(), date, wanted.session()).stream()
                .flatMap(id -> lines.stream().filter(line -> line.id().equals(id)))
                .toList();
    }

    /** Who is left out for a person to decide: of the session, or the one asked for. */
    private List<Line> leftOut(LocalDate date, Wanted wanted, Optional<UUID> moved) {
        List<UUID> ids = wanted.session() == null
                ? moved
                        .flatMap(id -> appointments.findByClinicIdAndId(current.id(), id))
                        .filter(rescheduleProposals::leftOut)
                        .map(Appointment::id)
                        .stream()
                        .toList()
                : rescheduleProposals.leftOut(current.id(), date, wanted.session());
        return diaries.of(current.id(), date)
                .lines()
                .filter(line -> ids.contains(line.id()))
                .toList();
    }

    private void seen(List<Way> ways, List<Line> movable) {
        List<UUID> named = Stream.concat(
                        movable.stream().map(Line::who),
                        ways.stream()
                                .flatMap(way -> way.effect().visits().stream())
                                .map(MoveEffect.OfVisit::who))
                .map(who -> who.patientId())
                .filter(Objects::nonNull)
                .toList();
        events.publishEvent(Audited.viewed(current.id(), "fix of a day", named));
    }
}
