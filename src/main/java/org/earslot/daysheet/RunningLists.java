package org.earslot.daysheet;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedule.Lane;
import org.earslot.day.DaySchedule.Line;
import org.earslot.day.DaySchedules;
import org.earslot.day.LastPress;
import org.earslot.day.LateCard;
import org.earslot.day.LateCards;
import org.earslot.day.Pace;
import org.earslot.referral.Referral;
import org.earslot.referral.Referrals;
import org.earslot.visit.Visit;
import org.earslot.visit.Visits;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reads the running lists of a day. */
@Service
public class RunningLists {

    private final DaySchedules diaries;
    private final Briefings briefings;
    private final Referrals referrals;
    private final TrayRules trays;
    private final Visits visits;
    private final LateCards lateCards;
    private final ClinicClock clock;

    RunningLists(
            DaySchedules diaries,
            Briefings briefings,
            Referrals referrals,
            TrayRules trays,
            Visits visits,
            LateCards lateCards,
            ClinicClock clock) {
        this.diaries = diaries;
        this.briefings = briefings;
        this.referrals = referrals;
        this.trays = trays;
        this.visits = visits;
        this.lateCards = lateCards;
        this.clock = clock;
    }

    /** A practitioner who has a list on that day. */
    public record Choice(UUID practitionerId, String practitioner) {}

    /**
     * The lists of a day.
     *
     * @param closed whether the day is closed
     * @param choices all who have a list
     * @param list the one shown
     * @param pace how it runs; empty on another day than today
     * @param lastPress the last press on it, as long as it can be undone where it was made
     */
    public record Shown(
            boolean closed,
            List<Choice> choices,
            Optional<RunningList> list,
            Optional<Pace> pace,
            Optional<LastPress> lastPress) {}

    /** The day with the list of {@code practitionerId}, or of the first by name where that is empty. */
    @Transactional(readOnly = true)
    public Shown of(ClinicId clinicId, LocalDate date, Optional<UUID> practitionerId) {
        DaySchedule day = diaries.of(clinicId, date);
        List<Choice> choices = day.lanes().stream()
                .filter(lane -> !lane.lines().isEmpty())
                .map(lane -> new Choice(lane.practitionerId(), lane.practitionerName()))
                .toList();
        Optional<Lane> lane = practitionerId.isPresent()
                ? day.lane(practitionerId.get())
                : choices.stream().findFirst().flatMap(first -> day.lane(first.practitionerId()));
        LocalTime now = clock.local(clinicId, clock.now()).toLocalTime();
        Optional<Lane> running = lane.filter(any -> date.equals(clock.today(clinicId)));
        return new Shown(
                day.closed(),
                choices,
                lane.map(shown -> list(clinicId, date, shown)),
                running.flatMap(shown -> shown.pace(now)),
                running.flatMap(shown -> shown.lastPress(now)));
    }

    private RunningList list(ClinicId clinicId, LocalDate date, Lane lane) {
        boolean today = date.equals(clock.today(clinicId));
        Optional<LateCard> late = today
                ? RunningList.withoutTurn(lane).flatMap(line -> lateCards.ofLate(clinicId, line.id()))
                : Optional.empty();
        LocalTime now = clock.local(clinicId, clock.now()).toLocalTime();
        return RunningList.of(date, lane, now, recorded(clinicId, lane), briefs(clinicId, date, lane, now), late);
    }

    /** Of those in the room and of the next: whom the practitioner is about to touch. */
    private Map<UUID, Briefing> briefs(ClinicId clinicId, LocalDate date, Lane lane, LocalTime now) {
        List<TrayRule> rules = trays.of(clinicId);
        return RunningList.atHand(lane, now)
                .collect(Collectors.toMap(
                        Line::id, line -> briefings.of(clinicId, date, line, referral(clinicId, line), rules)));
    }

    private @Nullable Referral referral(ClinicId clinicId, Line line) {
        UUID id = line.who().referralId();
        return id == null ? null : referrals.findByClinicIdAndId(clinicId, id).orElse(null);
    }

    private Map<UUID, Visit> recorded(ClinicId clinicId, Lane lane) {
        Map<UUID, UUID> byVisit = lane.lines().stream()
                .filter(line -> line.visitId() != null && line.times().calledIn() != null)
                .collect(Collectors.toMap(Line::visitId, Line::id));
        return visits.findAllById(byVisit.keySet()).stream()
                .filter(visit -> visit.clinicId().equals(clinicId))
                .collect(Collectors.toMap(visit -> byVisit.get(visit.id()), Function.identity()));
    }
}
