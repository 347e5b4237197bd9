package org.earslot.review;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Set;
import java.util.UUID;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.review.figures.MeasuredVisit;
import org.jspecify.annotations.Nullable;

/** Invents visits of one practitioner in London, for tests without a database. */
public final class ListedVisit {

    public static final ZoneId LONDON = ZoneId.of("Europe/London");
    public static final UUID P1 = UUID.fromString("00000000-0000-0000-0000-0000000000a1");

    private final LocalDate date;
    private Attendance attendance = Attendance.ATTENDED;
    private Method method = Method.MICROSUCTION;
    private Ears ears = Ears.RIGHT;
    private Set<Wax> wax = Set.of();
    private @Nullable String booked;
    private @Nullable String mayLast;
    private @Nullable String arrived;
    private @Nullable String calledIn;
    private @Nullable String finished;
    private @Nullable String ready;
    private boolean fitIn;
    private int outside;
    private @Nullable StoppedEarly stopped;
    private @Nullable String estimated;

    private ListedVisit(String date) {
        this.date = LocalDate.parse(date);
    }

    public static ListedVisit on(String date) {
        return new ListedVisit(date);
    }

    public ListedVisit booked(String start, String until) {
        booked = start;
        mayLast = until;
        return this;
    }

    public ListedVisit fitIn() {
        fitIn = true;
        return this;
    }

    public ListedVisit arrived(String at) {
        arrived = at;
        return this;
    }

    public ListedVisit inRoom(String from, String to, String roomReady) {
        calledIn = from;
        finished = to;
        ready = roomReady;
        return this;
    }

    public ListedVisit outside(int minutes) {
        outside = minutes;
        return this;
    }

    public ListedVisit absent() {
        attendance = Attendance.DID_NOT_ATTEND;
        return this;
    }

    public ListedVisit of(Method by, Ears which) {
        method = by;
        ears = which;
        return this;
    }

    public ListedVisit found(Wax... consistencies) {
        wax = Set.of(consistencies);
        return this;
    }

    public ListedVisit stopped(StoppedEarly why) {
        stopped = why;
        return this;
    }

    public ListedVisit estimated(String text) {
        estimated = text;
        return this;
    }

    public MeasuredVisit visit() {
        UUID id = UUID.randomUUID();
        return new MeasuredVisit(
                id,
                id.toString(),
                date,
                P1,
                "P1",
                attendance,
                method,
                ears,
                null,
                wax,
                Set.of(),
                Set.of(),
                Set.of(),
                false,
                at(booked),
                booked == null ? null : 20,
                fitIn,
                at(arrived),
                at(calledIn),
                at(finished),
                at(ready),
                outside,
                stopped,
                at(mayLast),
                estimated);
    }

    private @Nullable Instant at(@Nullable String time) {
        return time == null
                ? null
                : date.atTime(LocalTime.parse(time)).atZone(LONDON).toInstant();
    }
}
