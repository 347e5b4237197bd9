package org.earslot.day;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.earslot.booking.AppointmentStatus;
import org.earslot.booking.CancelledBy;
import org.earslot.booking.LocalClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.ClinicSession;
import org.earslot.clinic.TimeSpan;
import org.earslot.day.SessionProjection.Expected;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.minutes.MinutesDistribution;
import org.jspecify.annotations.Nullable;

/**
 * A day of the diary, to be read: each practitioner's sessions and appointments, and how the day is expected to run.
 *
 * @param closed whether its times can no longer be corrected
 * @param lanes one for each practitioner who has a session or an appointment, by name
 */
public record DaySchedule(ClinicId clinicId, LocalDate date, boolean closed, List<Lane> lanes) {

    public DaySchedule {
        lanes = List.copyOf(lanes);
    }

    /** The lane of that practitioner. */
    public Optional<Lane> lane(UUID practitionerId) {
        return lanes.stream()
                .filter(lane -> lane.practitionerId().equals(practitionerId))
                .findFirst();
    }

    /** Every appointment of the day, lane by lane. */
    public Stream<Line> lines() {
        return lanes.stream().flatMap(lane -> lane.lines().stream());
    }

    /** The visits that have no end yet, by their starts. */
    public List<Line> open() {
        return lines().filter(line -> line.progress().isOpen())
                .sorted(Comparator.comparing(Line::start))
                .toList();
    }

    /** The visits that are over. */
    public long seen() {
        return lines().map(Line::progress)
                .filter(progress -> progress == Progress.FINISHED || progress == Progress.READY)
                .count();
    }

    /** When the last session of the day ends; empty where there is none. */
    public Optional<LocalTime> lastEnd() {
        return lanes.stream()
                .flatMap(lane -> lane.sessions().stream())
                .map(session -> session.held().span().to())
                .max(Comparator.naturalOrder());
    }

    /** The last press of the day, as long as it can be undone where it was made. */
    public Optional<LastPress> lastPress(LocalTime now) {
        return lanes.stream().flatMap(lane -> lane.lastPress(now).stream()).max(Comparator.comparing(LastPress::at));
    }

    /** Whether the last session is over at {@code now} by the clinic's wall clock. */
    public boolean isOver(LocalDateTime now) {
        return !now.isBefore(date.atTime(lastEnd().orElse(LocalTime.MIN)));
    }

    /**
     * One practitioner's day.
     *
     * @param sessions by their starts; may be none, where a session was closed after the booking
     * @param lines by their starts, those called off included
     */
    public record Lane(UUID practitionerId, String practitionerName, List<Session> sessions, List<Line> lines) {

        public Lane {
            sessions = List.copyOf(sessions);
            lines = List.copyOf(lines);
        }

        /** Whether a visit is in the room, so that nobody else is called in; one whose times cannot be true does not count. */
        public boolean someoneInRoom() {
            return lines.stream().anyMatch(line -> line.plausible() && line.progress() == Progress.IN_ROOM);
        }

        /** The appointments that take or took time. */
        public List<Line> seen() {
            return lines.stream().filter(Line::comes).toList();
        }

        /** How many of them are in no session, as after one was closed. */
        public long outsideSessions() {
            return lines.stream()
                    .filter(line -> line.comes() && !line.inSession())
                    .count();
        }

        /** Those who are still to be called in, in the order of calling. */
        public List<Line> waiting() {
            return lines.stream()
                    .filter(line -> line.progress() == Progress.PRESENT || line.progress() == Progress.TO_COME)
                    .sorted(Comparator.comparing(Line::turn))
                    .toList();
        }

        /** Those of a session whose visit is not over; nothing can change how it ends once there are none. */
        public List<Line> open(Session session) {
            return lines.stream()
                    .filter(line -> line.progress().isOpen())
                    .filter(line -> session.run().of(line.id()).isPresent())
                    .toList();
        }

        /** Minutes of a session in which nobody is booked, from {@code from} on. */
        public int freeMinutes(Session session, LocalTime from) {
            List<TimeSpan> taken = lines.stream()
                    .filter(line -> line.comes() && !line.fitIn())
                    .map(Line::slot)
                    .toList();
            return session.held().free(taken).stream()
                    .filter(free -> free.to().isAfter(from))
                    .mapToInt(free ->
                            free.from().isBefore(from) ? new TimeSpan(from, free.to()).minutes() : free.minutes())
                    .sum();
        }

        /**
         * Whoever is to be called in next: the first in turn of those present, else the first to come. One who was given
         * another turn lets those before go first, as long as they are not late.
         */
        public Optional<Line> next(LocalTime now) {
            List<Line> waiting = waiting();
            Optional<Line> present = waiting.stream()
                    .filter(line -> line.progress() == Progress.PRESENT)
                    .findFirst();
            return present.filter(Line::turnGiven)
                    .flatMap(given -> waiting.stream()
                            .takeWhile(line -> line != given)
                            .filter(line -> !line.due().isBefore(now))
                            .findFirst())
                    .or(() -> present)
                    .or(() -> waiting.stream().findFirst());
        }

        /** The last press on this list, as long as it can be undone where it was made. */
        public Optional<LastPress> lastPress(LocalTime now) {
            return lines.stream()
                    .filter(Line::plausible)
                    .flatMap(line -> LastPress.of(line).stream())
                    .filter(press -> press.isFresh(now))
                    .max(Comparator.comparing(LastPress::at));
        }

        /** How the list runs at {@code now}; null for a day still to come. Empty where nobody is left to see. */
        public Optional<Pace> pace(@Nullable LocalTime now) {
            return Pace.of(this, now);
        }
    }

    /** A session and how it is expected to run. */
    public record Session(ClinicSession held, String roomName, SessionProjection run) {}

    /**
     * One appointment.
     *
     * @param start booked start; for a fit-in, from when
     * @param what method and ears, or the other kind's name
     * @param comes whether the patient will be seen or was
     * @param inSession whether a session of the day holds it
     * @param inRoom time in room as estimated at the booking
     * @param expected how it is expected to run; null where it takes no time
     * @param recorded whether an outcome is recorded for each planned ear
     * @param turn place in the order of calling
     * @param turnGiven whether that is another than the booked start's
     * @param outside set for one who is called in twice
     * @param comesAt when the patient says to come, if that is later than booked
     * @param told what the patient was told of the wait
     * @param plausible whether the recorded times can be true; if not, nothing is computed from them
     */
    public record Line(
            UUID id,
            int version,
            AppointmentStatus status,
            boolean confirmed,
            boolean fitIn,
            @Nullable String fitInReason,
            LocalTime start,
            int slotMinutes,
            UUID practitionerId,
            UUID roomId,
            String roomName,
            Who who,
            What what,
            boolean comes,
            boolean inSession,
            MinutesDistribution inRoom,
            LocalClock times,
            @Nullable Attendance attendance,
            @Nullable CancelledBy cancelledBy,
            @Nullable Expected expected,
            @Nullable UUID visitId,
            boolean recorded,
            LocalTime turn,
            boolean turnGiven,
            @Nullable InterruptedVisit outside,
            @Nullable LocalTime comesAt,
            @Nullable WaitNotice told,
            boolean plausible) {

        /** A patient is not missed before so many minutes are over; the project's own assumption. */
        private static final long LEAST_OVERDUE = 5;

        /** Where the slot ends. */
        public LocalTime slotEnd() {
            return start.plusMinutes(slotMinutes);
        }

        /** The slot, cut at midnight. */
        public TimeSpan slot() {
            return new TimeSpan(start, slotEnd().isAfter(start) ? slotEnd() : LocalTime.MAX);
        }

        /** Expected wait, minutes; 0 where it takes no time. */
        public double waitMinutes() {
            return expected == null ? 0 : expected.waitMinutes();
        }

        /** When the patient should be here: as booked, or as they say. */
        public LocalTime due() {
            return comesAt == null ? start : comesAt;
        }

        /** Minutes since the patient should have been here: still to come, and not only just late; else 0. */
        public long overdueMinutes(LocalTime now) {
            if (progress() != Progress.TO_COME || fitIn) {
                return 0;
            }
            long minutes = Duration.between(due(), now).toMinutes();
            return minutes < LEAST_OVERDUE ? 0 : minutes;
        }

        /** Whether the patient is here after the booked start and has been given no turn yet, or is here without a slot. */
        public boolean hasNoTurn() {
            return plausible && progress() == Progress.PRESENT && !turnGiven && (fitIn || cameLate());
        }

        private boolean cameLate() {
            return times.arrived() != null && times.arrived().isAfter(start.plusMinutes(1));
        }

        /** How far the visit has come. */
        public Progress progress() {
            return outside != null && outside.to() == null && times.finished() == null
                    ? Progress.OUTSIDE
                    : Progress.of(status, times);
        }
    }

    /**
     * For whom; null where it is not known.
     *
     * @param name "Family, Given", or the local number
     */
    public record Who(
            @Nullable UUID patientId, @Nullable UUID referralId, String localNumber, String name, String initials) {}

    /** For what: method and ears, or another kind of visit by its name. */
    public record What(
            @Nullable Method method,
            @Nullable Ears ears,
            @Nullable String otherKind) {}

    /** How far a visit has come. */
    public enum Progress {
        TO_COME,
        PRESENT,
        IN_ROOM,
        /** Between two call-ins. */
        OUTSIDE,
        FINISHED,
        READY,
        OFF;

        /** Whether the visit has no end yet: neither finished nor called off. */
        public boolean isOpen() {
            return this == TO_COME || this == PRESENT || isUnderWay();
        }

        /** Whether the patient was called in and has not left for good. */
        public boolean isUnderWay() {
            return this == IN_ROOM || this == OUTSIDE;
        }

        static Progress of(AppointmentStatus status, LocalClock times) {
            if (status.toCome()) {
                return TO_COME;
            }
            if (status.present()) {
                return PRESENT;
            }
            if (status != AppointmentStatus.FULFILLED) {
                return OFF;
            }
            if (times.roomReady() != null) {
                return READY;
            }
            // Seen by a log that has no times: over, not in the room.
            return times.finished() == null && times.calledIn() != null ? IN_ROOM : FINISHED;
        }
    }
}
