package org.earslot.demo;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.earslot.demo.ClinicFile.Session;
import org.earslot.ear.Attendance;
import org.earslot.ear.Method;

/** Runs one practitioner's booked lists: one patient at a time, the next one present is called in. */
final class ListRun {

    private final ClinicFile clinic;
    private final InventedCourses courses;
    private final Dice dice;

    ListRun(ClinicFile clinic, InventedCourses courses, Dice dice) {
        this.clinic = clinic;
        this.courses = courses;
        this.dice = dice;
    }

    private record Coming(Place place, Attendance attendance, int arrival) {}

    /**
     * What becomes of the places of one session.
     *
     * @param freeFrom the minute at which room and practitioner are free of what went before
     */
    List<RealisedVisit> realised(Session session, List<Place> places, int freeFrom) {
        List<RealisedVisit> visits = new ArrayList<>();
        List<Coming> present = new ArrayList<>();
        int sure = sureToCome(places);
        for (int i = 0; i < places.size(); i++) {
            Place place = places.get(i);
            Coming coming = coming(place, i < sure);
            switch (coming.attendance()) {
                case ATTENDED, ATTENDED_LATE -> present.add(coming);
                case LATE_NOT_SEEN ->
                    visits.add(new RealisedVisit(place, coming.attendance(), coming.arrival(), null, null, null));
                default -> visits.add(new RealisedVisit(place, coming.attendance(), null, null, null, null));
            }
        }
        visits.addAll(seen(session, present, freeFrom));
        visits.sort(Comparator.comparing(visit -> visit.place().startMinute()));
        return visits;
    }

    /** Up to the patient behind the slow case everyone comes, and in time: so the overrun is plain to see. */
    private static int sureToCome(List<Place> places) {
        for (int i = 0; i < places.size(); i++) {
            if (places.get(i).referral().slowCase()) {
                return i + 2;
            }
        }
        return 0;
    }

    private List<RealisedVisit> seen(Session session, List<Coming> waiting, int freeFrom) {
        List<RealisedVisit> visits = new ArrayList<>();
        int free = Math.max(minute(session.from()) + dice.between(0, 4), freeFrom);
        boolean pauseAhead = session.pause() != null;
        while (!waiting.isEmpty()) {
            Coming next = next(waiting, free);
            int called = Math.max(
                    Math.max(free, next.arrival()),
                    next.place().startMinute() - clinic.policy().earlyAllowanceMinutes());
            if (pauseAhead && called >= minute(session.pause().from())) {
                free = afterPause(session, free);
                pauseAhead = false;
                continue;
            }
            waiting.remove(next);
            RealisedVisit visit = visit(next, called + dice.between(0, 1));
            visits.add(visit);
            free = visit.roomReady();
        }
        return visits;
    }

    /** The first in booked order who is present, else whoever comes first. */
    private static Coming next(List<Coming> waiting, int free) {
        return waiting.stream()
                .filter(one -> one.arrival() <= free)
                .findFirst()
                .orElseGet(() -> waiting.stream()
                        .min(Comparator.comparingInt(Coming::arrival))
                        .orElseThrow());
    }

    /** A late list shortens the break, but not below five minutes. */
    private static int afterPause(Session session, int free) {
        int from = Math.max(free, minute(session.pause().from()));
        return Math.max(minute(session.pause().to()), from + 5);
    }

    private RealisedVisit visit(Coming coming, int called) {
        Place place = coming.place();
        int lateness = called - place.startMinute();
        Course course = courses.of(
                place.referral(), clinic.practitioner(place.session().practitioner()), place.slotMinutes(), lateness);
        int turnaround = turnaround(place.referral().method());
        return new RealisedVisit(
                place, coming.attendance(), coming.arrival(), called, called + course.minutes() + turnaround, course);
    }

    private int turnaround(Method method) {
        int usual = clinic.turnaroundMinutes().get(method.code());
        return (int) Math.max(1, Math.round(usual + dice.normal(1.2)));
    }

    private Coming coming(Place place, boolean surely) {
        int early = place.startMinute() - (int) Math.max(-8, Math.min(25, Math.round(8 + dice.normal(6))));
        if (surely) {
            return new Coming(place, Attendance.ATTENDED, place.startMinute() - dice.between(4, 12));
        }
        Attendance attendance = dice.weighted(Attendance.values(), 0.835, 0.06, 0.008, 0.052, 0.037, 0.008);
        return switch (attendance) {
            case ATTENDED_LATE -> new Coming(place, attendance, place.startMinute() + dice.between(10, 22));
            case LATE_NOT_SEEN -> new Coming(place, attendance, place.startMinute() + dice.between(24, 45));
            default -> new Coming(place, attendance, early);
        };
    }

    private static int minute(LocalTime time) {
        return time.toSecondOfDay() / 60;
    }
}
