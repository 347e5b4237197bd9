package org.earslot.demo;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.earslot.demo.ClinicFile.Referrer;
import org.earslot.demo.ClinicFile.Session;
import org.earslot.exchange.BookingColumn;
import org.earslot.exchange.VisitColumn;

/** The invented clinic's past, its current week and its open diary, as the text of three files. */
final class SeedDemo {

    static final int WEEKS_OF_PAST = 78;
    private static final long SEED = 20_26_11_25L;

    private final ClinicFile clinic;
    private final Dice dice = new Dice(SEED);
    private final LocalDate opening;
    private final InventedPeople people;
    private final FilledSession sessions;
    private final ListRun run;
    private final DemoRows rows = new DemoRows(dice);
    private final InventedNames names = new InventedNames(dice);
    private final List<List<String>> visits = new ArrayList<>();
    private final List<List<String>> thisWeek = new ArrayList<>();
    private final List<List<String>> bookings = new ArrayList<>();

    private SeedDemo(ClinicFile clinic) {
        this.clinic = clinic;
        opening = clinic.anchorMonday().minusWeeks(WEEKS_OF_PAST);
        people = new InventedPeople(opening, dice);
        sessions = new FilledSession(clinic, people, dice);
        run = new ListRun(clinic, new InventedCourses(dice), dice);
    }

    /** File name to content, the same on every call. */
    static Map<String, String> files(ClinicFile clinic) {
        SeedDemo demo = new SeedDemo(clinic);
        demo.livePast();
        demo.fillDiary();
        Map<String, String> files = new LinkedHashMap<>();
        files.put("visit-log.csv", DemoRows.csv(VisitColumn.headings(), demo.visits));
        files.put("this-week.csv", DemoRows.csv(VisitColumn.headings(), demo.thisWeek));
        files.put("bookings.csv", DemoRows.csv(BookingColumn.headings(), demo.bookings));
        return files;
    }

    private void livePast() {
        for (LocalDate day = opening; day.isBefore(clinic.anchorMonday()); day = day.plusDays(1)) {
            for (List<Session> lane : lanes(day)) {
                livePastLane(lane, day);
            }
        }
    }

    private void livePastLane(List<Session> lane, LocalDate day) {
        int week = (int) (day.toEpochDay() - opening.toEpochDay()) / 7;
        int free = 0;
        boolean away = closed(week) || dice.chance(0.05);
        for (Session session : lane) {
            if (away || week < openingWeek(session)) {
                continue;
            }
            List<Place> places = sessions.filled(session, day, session.morning() ? 0.93 : 0.7);
            for (RealisedVisit visit : run.realised(session, places, free)) {
                free = Math.max(free, visit.roomReady() == null ? 0 : visit.roomReady());
                visits.add(rows.visit(String.format("V%05d", visits.size() + 1), visit));
                comeAgain(visit);
            }
        }
    }

    private void comeAgain(RealisedVisit visit) {
        InventedPatient patient = visit.place().referral().patient();
        if (visit.course() == null) {
            people.missed(patient, visit.place().date());
        } else {
            people.seen(patient, visit.place().date(), visit.course().outcomes().values());
        }
    }

    private void fillDiary() {
        for (int ahead = 0; ahead < 28; ahead++) {
            LocalDate day = clinic.anchorMonday().plusDays(ahead);
            for (List<Session> lane : lanes(day)) {
                fillLane(lane, day, ahead / 7);
            }
        }
    }

    private void fillLane(List<Session> lane, LocalDate day, int week) {
        int free = 0;
        for (Session session : lane) {
            boolean slow = week == 0 && session.morning() && lane.size() > 1;
            List<Place> places =
                    slow ? sessions.withSlowCase(session, day) : sessions.filled(session, day, density(session, week));
            List<String> ids = new ArrayList<>();
            for (Place place : places) {
                ids.add(book(place, week));
            }
            if (week == 0) {
                for (RealisedVisit visit : run.realised(session, places, free)) {
                    free = Math.max(free, visit.roomReady() == null ? 0 : visit.roomReady());
                    thisWeek.add(rows.visit(ids.get(places.indexOf(visit.place())), visit));
                }
            }
        }
    }

    private String book(Place place, int week) {
        String id = String.format("B%04d", bookings.size() + 1);
        InventedPerson person = InventedPerson.drawn(names, clinic.anchorDate(), dice);
        String status = week > 0 && dice.chance(0.15) ? "pending" : "booked";
        bookings.add(DemoRows.booking(id, place, person, status, note(place.referral())));
        return id;
    }

    private String note(InventedReferral referral) {
        if (!referral.firstVisit()) {
            return "returning patient";
        }
        if (!referral.slowCase() && dice.chance(0.3)) {
            return "self-referral";
        }
        Referrer referrer = dice.one(clinic.referrers());
        return "referred by " + referrer.name() + ", " + referrer.practice();
    }

    /** Busy mornings in the first week, quieter afternoons, and a diary that thins out week by week. */
    private static double density(Session session, int week) {
        return switch (week) {
            case 0 -> session.morning() ? 0.93 : 0.45;
            case 1 -> session.morning() ? 0.68 : 0.4;
            case 2 -> session.morning() ? 0.48 : 0.25;
            default -> session.morning() ? 0.26 : 0.12;
        };
    }

    /** The clinic was smaller once: in which week of the log each session began. */
    private static int openingWeek(Session session) {
        boolean monday = session.weekday() == DayOfWeek.MONDAY;
        boolean friday = session.weekday() == DayOfWeek.FRIDAY;
        if (session.practitioner().startsWith("Pellia")) {
            return 65;
        }
        if (!session.morning()) {
            return monday ? 0 : friday ? 66 : 54;
        }
        boolean second = session.pause().from().isAfter(LocalTime.of(10, 45));
        return second && session.weekday() != DayOfWeek.THURSDAY ? 42 : 0;
    }

    /** One fortnight in the log the clinic was shut. */
    private static boolean closed(int week) {
        return week == 30 || week == 31;
    }

    /** The day's sessions, grouped by practitioner, each group in the order of time. */
    private List<List<Session>> lanes(LocalDate day) {
        Map<String, List<Session>> lanes = new LinkedHashMap<>();
        clinic.sessions().stream()
                .filter(session -> session.weekday() == day.getDayOfWeek())
                .sorted(Comparator.comparing(Session::from))
                .forEach(session -> lanes.computeIfAbsent(session.practitioner(), name -> new ArrayList<>())
                        .add(session));
        return new ArrayList<>(lanes.values());
    }
}
