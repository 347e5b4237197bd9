package org.earslot.offers;

import java.time.LocalDateTime;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicSession;
import org.earslot.day.DaySchedule.What;
import org.earslot.day.DaySchedule.Who;
import org.earslot.day.SessionProjection;

/**
 * What a change of a day would do, by the projection of each list it touches.
 *
 * @param lists every session whose list changes, by date and start
 * @param visits everyone on those lists, in the order of the new starts
 */
public record MoveEffect(List<OfList> lists, List<OfVisit> visits) {

    public MoveEffect {
        lists = List.copyOf(lists);
        visits = List.copyOf(visits);
    }

    /** One session's list as it is and as it would be. */
    public record OfList(
            ClinicSession session, String practitioner, SessionProjection before, SessionProjection then) {}

    /**
     * One patient's visit as it is and as it would be.
     *
     * @param moved whether it gets another start, length or practitioner
     * @param confirmed whether the patient has confirmed the start as it is, so has to be asked
     * @param waitBefore expected wait, minutes
     * @param waitThen expected wait then, minutes
     */
    public record OfVisit(
            UUID appointmentId,
            int version,
            Who who,
            What what,
            boolean moved,
            boolean confirmed,
            Stand before,
            Stand then,
            double waitBefore,
            double waitThen) {}

    /** Where a visit is, by the clinic's wall clock. */
    public record Stand(String practitioner, LocalDateTime start, int slotMinutes) {}

    /** Those who get another place. */
    public List<OfVisit> moved() {
        return visits.stream().filter(OfVisit::moved).toList();
    }

    /** Those who stay where they are but whose expected wait changes by half a minute or more. */
    public List<OfVisit> affected() {
        return visits.stream()
                .filter(visit -> !visit.moved() && Math.abs(visit.waitThen() - visit.waitBefore()) >= 0.5)
                .toList();
    }

    /** All expected waits together as they are, minutes. */
    public double waitBefore() {
        return visits.stream().mapToDouble(OfVisit::waitBefore).sum();
    }

    /** All expected waits together as they would be, minutes. */
    public double waitThen() {
        return visits.stream().mapToDouble(OfVisit::waitThen).sum();
    }
}
