package org.earslot.day;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.UUID;
import org.earslot.booking.Appointment;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.BookedPlace;
import org.earslot.booking.LocalClock;
import org.earslot.booking.PlannedVisit;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Method;
import org.earslot.estimate.BookedEstimate;
import org.earslot.flow.list.Arrivals;
import org.earslot.minutes.FixedMinutes;
import org.earslot.minutes.LogNormalMinutes;
import org.earslot.minutes.MinutesDistribution;
import org.jspecify.annotations.Nullable;

/**
 * A visit as one of a practitioner's list, by the clinic's wall clock.
 *
 * @param booked the booked start; null for a fit-in
 * @param from the booked start, or from when a fit-in is expected
 * @param slotMinutes the slot; for a fit-in about how long
 * @param inRoom time in room as estimated
 * @param sharedSdLog what visits of the practitioner share, on the log scale
 * @param comes whether the patient will be seen or was
 * @param likely whether and when one who is still expected will come
 * @param turn place in the order of calling: the start, or the turn that was given
 * @param outside set for one who is called in twice
 * @param plausible whether the recorded times can be true; if not, the visit is left out of every projection
 */
public record ListedVisit(
        UUID id,
        @Nullable LocalTime booked,
        LocalTime from,
        int slotMinutes,
        MinutesDistribution inRoom,
        int turnaroundMinutes,
        double sharedSdLog,
        String room,
        boolean comes,
        LocalClock times,
        AttendanceProbability likely,
        LocalTime turn,
        @Nullable InterruptedVisit outside,
        boolean plausible) {

    /** In the order of the starts, called in once. */
    public ListedVisit(
            UUID id,
            @Nullable LocalTime booked,
            LocalTime from,
            int slotMinutes,
            MinutesDistribution inRoom,
            int turnaroundMinutes,
            double sharedSdLog,
            String room,
            boolean comes,
            LocalClock times,
            AttendanceProbability likely) {
        this(
                id,
                booked,
                from,
                slotMinutes,
                inRoom,
                turnaroundMinutes,
                sharedSdLog,
                room,
                comes,
                times,
                likely,
                from,
                null,
                true);
    }

    /** Spread of a wax removal whose length nobody estimated; the project's own assumption. */
    private static final double SPREAD_WITHOUT_ESTIMATE = 0.4;

    static ListedVisit of(
            Appointment appointment, PolicyTerms policy, ZoneId zone, AttendanceProbability likely, Instant now) {
        BookedPlace place = appointment.place();
        EstimatedLength estimated = estimated(appointment.planned(), place.slotMinutes(), policy);
        LocalTime start = LocalDateTime.ofInstant(place.start(), zone).toLocalTime();
        AppointmentStatus status = appointment.status();
        return new ListedVisit(
                appointment.id(),
                appointment.fitIn() ? null : start,
                start,
                place.slotMinutes(),
                estimated.inRoom(),
                estimated.turnaround(),
                estimated.sharedSdLog(),
                place.roomId().toString(),
                status.toCome() || status.present() || status == AppointmentStatus.FULFILLED,
                LocalClock.of(appointment.times(), zone),
                appointment.comesAt().map(at -> coming(place.start(), at)).orElse(likely),
                local(appointment.turn(), zone),
                outside(appointment, zone),
                appointment.hasPlausibleTimes(zone, now));
    }

    /** Whoever says to come late comes, and then; the project's own assumption. */
    private static AttendanceProbability coming(Instant start, Instant at) {
        double late = Math.max(0, Duration.between(start, at).toSeconds() / 60.0);
        return new AttendanceProbability(0, new Arrivals(0, new FixedMinutes(late)));
    }

    static @Nullable InterruptedVisit outside(Appointment appointment, ZoneId zone) {
        return appointment
                .steppedOut()
                .filter(from ->
                        appointment.isOutside() || appointment.calledInAgain().isPresent())
                .map(from -> new InterruptedVisit(
                        local(from, zone),
                        appointment.calledInAgain().map(to -> local(to, zone)).orElse(null)))
                .orElse(null);
    }

    private static LocalTime local(Instant instant, ZoneId zone) {
        return LocalDateTime.ofInstant(instant, zone).toLocalTime();
    }

    /** The same visit booked at another time. */
    public ListedVisit at(LocalTime start, int slot) {
        return new ListedVisit(
                id, start, start, slot, inRoom, turnaroundMinutes, sharedSdLog, room, comes, times, likely);
    }

    /** What was estimated, in the parts that a list runs on. */
    public record EstimatedLength(MinutesDistribution inRoom, int turnaround, double sharedSdLog) {}

    public static EstimatedLength estimated(PlannedVisit planned, int slotMinutes, PolicyTerms policy) {
        return estimated(planned.method(), planned.estimate(), slotMinutes, policy);
    }

    public static EstimatedLength estimated(
            @Nullable Method method, @Nullable String estimate, int slotMinutes, PolicyTerms policy) {
        if (method == null) {
            return new EstimatedLength(new FixedMinutes(slotMinutes), 0, 0);
        }
        int turnaround = policy.turnaroundMinutes(method);
        return BookedEstimate.find(estimate)
                .map(booked -> new EstimatedLength(booked.inRoomMinutes(), turnaround, booked.sharedSdLog()))
                .orElseGet(() -> {
                    double mean = Math.max(1, 0.8 * (slotMinutes - turnaround));
                    return new EstimatedLength(
                            LogNormalMinutes.ofMoments(mean, SPREAD_WITHOUT_ESTIMATE * mean), turnaround, 0);
                });
    }
}
