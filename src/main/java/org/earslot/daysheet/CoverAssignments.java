package org.earslot.daysheet;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.Practitioner;
import org.earslot.day.DaySchedule;
import org.earslot.day.DaySchedule.Line;
import org.earslot.ear.Method;
import org.jspecify.annotations.Nullable;

/** Who will hold each visit of a day: whoever it is booked with or, where that one is away, the cover in its room. */
record CoverAssignments(DaySchedule day, Map<UUID, Practitioner> practitioners) {

    static CoverAssignments of(DaySchedule day, List<Practitioner> all) {
        return new CoverAssignments(day, all.stream().collect(Collectors.toMap(Practitioner::id, Function.identity())));
    }

    /** The cover of a visit whose own practitioner has no session then. */
    Optional<Practitioner> cover(Line line) {
        if (line.inSession()) {
            return Optional.empty();
        }
        return day.lanes().stream()
                .flatMap(lane -> lane.sessions().stream())
                .map(DaySchedule.Session::held)
                .filter(held -> held.roomId().equals(line.roomId()) && holds(held, line))
                .findFirst()
                .flatMap(held -> Optional.ofNullable(practitioners.get(held.practitionerId())));
    }

    private static boolean holds(ClinicSession held, Line line) {
        return !line.start().isBefore(held.span().from())
                && line.start().isBefore(held.span().to());
    }

    /** The name of a practitioner; a dash where there is none any more. */
    String name(UUID practitionerId) {
        return Optional.ofNullable(practitioners.get(practitionerId))
                .map(Practitioner::name)
                .orElse("–");
    }

    /** Whoever will hold the visit but does not hold its method. */
    Optional<Practitioner> unable(Line line) {
        Method method = line.what().method();
        return holder(line).filter(who -> method != null && !who.methods().contains(method));
    }

    /**
     * Whoever will hold the visit but does not see patients of that age.
     *
     * @param age null if it is not known
     */
    Optional<Practitioner> ageNotSeen(Line line, @Nullable Integer age) {
        return holder(line).filter(who -> !who.ages().includes(Optional.ofNullable(age)));
    }

    private Optional<Practitioner> holder(Line line) {
        return cover(line).or(() -> Optional.ofNullable(practitioners.get(line.practitionerId())));
    }
}
