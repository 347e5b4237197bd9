package org.earslot.kit;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.booking.Appointment;
import org.earslot.booking.Appointments;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.kit.InstrumentKind;
import org.earslot.clinic.kit.InstrumentSet;
import org.earslot.clinic.kit.InstrumentSet.State;
import org.earslot.clinic.kit.SetUse;
import org.earslot.clinic.kit.SetUses;
import org.earslot.kit.SetsNeeded.Sets;
import org.springframework.stereotype.Component;

/** Where the sets are at this moment, as they were pressed, and which of today's visits still need one. */
@Component
class SetsToday {

    /** Presses older than this say nothing of today: then the sets are taken for clean in the morning. */
    private static final Duration KEPT_UP = Duration.ofDays(7);

    private final Appointments appointments;
    private final SetUses uses;
    private final ClinicClock clock;

    SetsToday(Appointments appointments, SetUses uses, ClinicClock clock) {
        this.appointments = appointments;
        this.uses = uses;
        this.clock = clock;
    }

    /** Where the sets of a kind are; all clean since the morning where nobody keeps that up. */
    Sets of(ClinicId clinicId, InstrumentKind kind, List<InstrumentSet> sets) {
        Instant now = clock.now();
        boolean keptUp = sets.stream().anyMatch(set -> set.since().isAfter(now.minus(KEPT_UP)));
        if (!keptUp) {
            return Sets.clean(sets.size());
        }
        int cycleEnds = sets.stream()
                .filter(set -> at(set, State.IN_CYCLE))
                .map(set -> set.since().plusSeconds(60L * kind.cycleMinutes()))
                .max(Comparator.naturalOrder())
                .map(end -> minute(clinicId, end.isAfter(now) ? end : now))
                .orElse(0);
        return new Sets(
                minute(clinicId, now),
                count(sets, State.CLEAN),
                count(sets, State.DIRTY),
                count(sets, State.IN_CYCLE),
                cycleEnds,
                sets.stream()
                        .filter(set -> at(set, State.IN_USE))
                        .map(set -> inUseUntil(clinicId, set))
                        .toList());
    }

    /** Visits of today that are over, under way or off, or for which a set is laid out. */
    Set<UUID> needNone(ClinicId clinicId) {
        List<Appointment> day =
                appointments.findByClinicIdAndClinicDateOrderByStartsAt(clinicId, clock.today(clinicId));
        Set<UUID> laidOut = uses(clinicId, day.stream().map(Appointment::id).toList());
        return day.stream()
                .filter(each -> laidOut.contains(each.id())
                        || !(each.status().toCome() || each.status().present()))
                .map(Appointment::id)
                .collect(Collectors.toSet());
    }

    private Set<UUID> uses(ClinicId clinicId, Collection<UUID> ids) {
        return ids.isEmpty()
                ? Set.of()
                : uses.findByClinicIdAndAppointmentIdIn(clinicId, ids).stream()
                        .map(SetUse::appointmentId)
                        .collect(Collectors.toSet());
    }

    /** To the end of the slot it was laid out for; at once if that is over or not known. */
    private int inUseUntil(ClinicId clinicId, InstrumentSet set) {
        return uses.findFirstByClinicIdAndSetIdOrderByAtDesc(clinicId, set.id())
                .flatMap(use -> appointments.findByClinicIdAndId(clinicId, use.appointmentId()))
                .filter(visit -> visit.place().date().equals(clock.today(clinicId)))
                .map(visit -> minute(clinicId, visit.place().end()))
                .orElse(0);
    }

    private int minute(ClinicId clinicId, Instant instant) {
        LocalTime time = clock.local(clinicId, instant).toLocalTime();
        return KitOfDay.minute(time);
    }

    private static boolean at(InstrumentSet set, State state) {
        return set.state().equals(state.code());
    }

    private static int count(List<InstrumentSet> sets, State state) {
        return (int) sets.stream().filter(set -> at(set, state)).count();
    }
}
