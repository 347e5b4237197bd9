package org.earslot.offers;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.Set;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.clinic.TimeSpan;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.day.ListedVisit;
import org.earslot.day.ListedVisit.EstimatedLength;
import org.earslot.day.ListedVisits;
import org.earslot.ear.Answer;
import org.earslot.ear.Method;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.habits.ClinicPatterns;
import org.earslot.flow.list.Arrivals;
import org.earslot.flow.list.Mix;
import org.earslot.flow.list.Place;
import org.earslot.flow.plan.Costs;
import org.earslot.flow.plan.Rollout;
import org.earslot.minutes.FixedMinutes;
import org.earslot.offers.SlotWish.PartOfDay;
import org.earslot.referral.Priority;
import org.earslot.referral.ReferralDetails;
import org.jspecify.annotations.Nullable;

/**
 * What a search for a slot goes by.
 *
 * @param wholeList whether offers weigh the whole list, or go to the end of what is booked
 * @param now the clinic's wall clock
 */
record OfferTerms(
        PolicyTerms policy,
        Costs costs,
        boolean wholeList,
        ClinicPatterns habits,
        LocalDateTime now,
        ZoneId zone,
        Priority priority,
        PartOfDay partOfDay) {

    /**
     * How far a list is priced as if its other free places were taken too: found best on invented clinics both where
     * there is room to spare, which it spreads evenly, and where there is none.
     */
    static final double FILLS = 0.25;

    /** The visit that is looked for, in a list. */
    static final UUID NEW = new UUID(0, 0);

    /**
     * The visit by one practitioner.
     *
     * @param least minutes of its slot
     * @param most minutes of its slot, as estimated for itself
     * @param beyond minutes that the policy gives such visits beyond their estimates; in both bounds already
     */
    record OwnVisit(EstimatedLength estimated, int least, int most, int beyond, Answer first) {}

    /** Days until then, in minutes of wait: as the clinic has set it; how much more if it is pressing, the project's own assumption. */
    double daysCost(LocalDate date) {
        double times = switch (priority) {
            case ROUTINE -> 1;
            case SOON -> 5;
            case URGENT -> 100 / 3.0;
        };
        double minutes = policy.tenDaysSoonerMinutes() / 10.0;
        return costs.waitMinute() * minutes * times * ChronoUnit.DAYS.between(now.toLocalDate(), date);
    }

    /** What a session may come to. */
    Rollout.Limits limits() {
        return new Rollout.Limits(policy.acceptedOvertimeShare(), FILLS);
    }

    /** When a slot may begin on that day: from the first time, before the second; null if it no longer may. */
    @Nullable
    TimeSpan window(LocalDate date) {
        LocalTime from = partOfDay == PartOfDay.AFTERNOON ? LocalTime.NOON : LocalTime.MIN;
        LocalTime to = partOfDay == PartOfDay.MORNING ? LocalTime.NOON : LocalTime.of(23, 59);
        if (date.equals(now.toLocalDate()) && now.toLocalTime().isAfter(from)) {
            from = now.toLocalTime();
        }
        return from.isBefore(to) ? new TimeSpan(from, to) : null;
    }

    /**
     * The least and most minutes of a slot for what was estimated: from its mean, and what the policy gives such visits
     * beyond, to what was advised, on the grid.
     */
    private OwnVisit wax(EstimatedLength estimated, int advised, int beyond, Answer first) {
        int grid = policy.gridMinutes();
        Place place = Place.booked("", LocalTime.NOON, 0, estimated.inRoom())
                .withTurnaround(new FixedMinutes(estimated.turnaround()));
        int mean = (int) Rollout.meanSlot(place, grid);
        int least = Math.max(
                (mean + beyond + grid - 1) / grid * grid, (policy.leastSlotMinutes() + grid - 1) / grid * grid);
        return new OwnVisit(estimated, Math.min(least, advised), advised, beyond, first);
    }

    /** As estimated; if nothing was, the moved appointment's own slot, kept as it is. */
    OwnVisit own(WishedVisit visit, @Nullable Estimate estimate) {
        ReferralDetails said = visit.said();
        Method method = visit.method();
        if (estimate != null && said != null) {
            EstimatedLength estimated =
                    ListedVisit.estimated(method, estimate.estimated(), estimate.slotMinutes(), policy);
            int beyond = method == null
                    ? 0
                    : policy.slotAdjustments().of(method, said.request().ears());
            return wax(estimated, estimate.slotMinutes(), beyond, said.request().firstVisit());
        }
        Appointment moved = visit.moved();
        if (moved == null) {
            throw new IllegalStateException("neither an estimate nor an appointment says how long");
        }
        int slot = moved.place().slotMinutes();
        return new OwnVisit(ListedVisit.estimated(moved.planned(), slot, policy), slot, slot, 0, Answer.NOT_KNOWN);
    }

    Place place(OwnVisit own) {
        return Place.booked(NEW.toString(), LocalTime.NOON, 0, own.estimated().inRoom())
                .withTurnaround(new FixedMinutes(own.estimated().turnaround()))
                .withAttendance(habits.coming().absent(own.first()), arrivals());
    }

    Arrivals arrivals() {
        return ListedVisits.arrivals(habits.coming());
    }

    /** What else may be booked with somebody who holds these methods. */
    Mix mix(Set<Method> methods) {
        var kinds = habits.usual().stream()
                .filter(usual -> methods.isEmpty() || methods.contains(usual.method()))
                .toList();
        return new Mix(
                (kinds.isEmpty() ? habits.usual() : kinds)
                        .stream()
                                .map(usual -> new Mix.Kind(
                                        usual.method().code() + " "
                                                + usual.ears().code(),
                                        usual.inRoom(),
                                        new FixedMinutes(policy.turnaroundMinutes(usual.method())),
                                        1))
                                .toList(),
                habits.coming().absent(),
                arrivals());
    }
}
