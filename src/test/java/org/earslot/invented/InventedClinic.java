package org.earslot.invented;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.earslot.ear.Attendance;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;

/**
 * A clinic invented from a seed: its truth, and its days in order of time.
 *
 * <p>Slots are fixed (20 minutes, 30 for both ears); sessions have 10 to 14 visits; about half of the visits are of
 * people seen before, some of them before the log begins.
 */
public final class InventedClinic {

    private static final int FIRST_START = 9 * 60;
    private static final int EARLY_ALLOWANCE = 10;
    private static final int[] SOFTENER_DAYS = {0, 1, 2, 3, 5, 7, 10, 14};
    private static final double[] SOFTENER_SHARES = {0.28, 0.04, 0.1, 0.18, 0.2, 0.13, 0.03, 0.04};

    private final long seed;
    private final ClinicTruth truth;
    private final List<InventedSession> sessions = new ArrayList<>();
    private final List<Patient> people = new ArrayList<>();
    /** The true states of the visits of the session being made, by visit number. */
    private final Map<Integer, Map<Ear, EarState>> pending = new HashMap<>();

    private int visits;

    private InventedClinic(long seed, int practitioners) {
        this.seed = seed;
        truth = new ClinicTruth(seed, practitioners);
    }

    /**
     * The clinic of this seed, run until it has so many timed visits; a longer run of the same seed begins with the same
     * visits.
     *
     * @param practitioners at least 1, each with one session a day
     */
    public static InventedClinic of(long seed, int practitioners, int timedVisits) {
        InventedClinic clinic = new InventedClinic(seed, practitioners);
        Luck luck = new Luck(seed * 31 + 5);
        LocalDate date = LocalDate.of(2024, 1, 8);
        int timed = 0;
        for (int day = 0; timed < timedVisits; day++) {
            for (int practitioner = 0; practitioner < practitioners; practitioner++) {
                InventedSession session = clinic.session(luck.apart(), date, day, practitioner);
                clinic.sessions.add(session);
                timed += (int)
                        session.visits().stream().filter(InventedVisit::timed).count();
            }
            date = date.plusDays(date.getDayOfWeek() == DayOfWeek.FRIDAY ? 3 : 1);
        }
        return clinic;
    }

    public long seed() {
        return seed;
    }

    public ClinicTruth truth() {
        return truth;
    }

    /** Every practitioner's list of every day, in order of time. */
    public List<InventedSession> sessions() {
        return List.copyOf(sessions);
    }

    /** All visits, in order of day, practitioner and list. */
    public List<InventedVisit> visits() {
        return sessions.stream().flatMap(session -> session.visits().stream()).toList();
    }

    /** Those with minutes. */
    public List<InventedVisit> timedVisits() {
        return visits().stream().filter(InventedVisit::timed).toList();
    }

    private InventedSession session(Luck luck, LocalDate date, int day, int practitioner) {
        int places = 10 + luck.below(5);
        List<InventedVisit.Told> list = new ArrayList<>();
        List<Patient> listed = new ArrayList<>();
        int start = FIRST_START;
        for (int place = 0; place < places; place++) {
            Patient patient = someone(luck, day);
            InventedVisit.Told told = told(luck, patient, date, practitioner, start);
            patient.seenBefore = true;
            patient.lastDay = day;
            patient.lastMethod = told.method();
            list.add(told);
            listed.add(patient);
            start += told.slot();
        }
        return new InventedSession(date, practitioner, FIRST_START, start, run(luck, list, listed));
    }

    private Patient someone(Luck luck, int day) {
        if (!people.isEmpty() && luck.happens(0.5)) {
            for (int attempt = 0; attempt < 20; attempt++) {
                Patient patient = people.get(luck.below(people.size()));
                if (day - patient.lastDay >= 15) {
                    return patient;
                }
            }
        }
        Patient patient = new Patient(people.size() + 1, truth, luck);
        people.add(patient);
        return patient;
    }

    private InventedVisit.Told told(Luck luck, Patient patient, LocalDate date, int practitioner, int start) {
        Ears ears = luck.happens(patient.bothEars) ? Ears.BOTH : luck.happens(0.5) ? Ears.RIGHT : Ears.LEFT;
        int softener = SOFTENER_DAYS[luck.pick(SOFTENER_SHARES)];
        // The ears as they will be at the visit: a report is about them, if badly.
        Map<Ear, EarState> states = states(luck, patient, ears, softener);
        Map<Ear, EarFindings> reported = new EnumMap<>(Ear.class);
        states.forEach((ear, state) -> reported.put(ear, written(luck, truth.reports[patient.referrer], state)));
        Method method = planned(luck, patient, reported);
        visits++;
        InventedVisit.Told told = new InventedVisit.Told(
                visits,
                patient.number,
                date,
                practitioner,
                patient.referrer,
                method,
                ears,
                !patient.seenBefore,
                patient.hearingAid,
                EnumSet.copyOf(patient.cautions),
                softener,
                reported,
                start,
                ears == Ears.BOTH ? 30 : 20);
        pending.put(visits, states);
        return told;
    }

    private Map<Ear, EarState> states(Luck luck, Patient patient, Ears ears, int softenerDays) {
        double softened = patient.hidden.complies() ? truth.softened(softenerDays) : 0;
        Map<Ear, EarState> states = new EnumMap<>(Ear.class);
        for (Ear ear : ears.each()) {
            states.put(
                    ear,
                    new EarState(
                            luck.pick(truth.waxShares(patient.hidden.tendency(), patient.hearingAid, softened)),
                            patient.hidden.canal(ear),
                            luck.pick(truth.depthShares[patient.hearingAid ? 1 : 0]),
                            luck.pick(truth.occlusionShares)));
        }
        return states;
    }

    private static EarFindings written(Luck luck, ReportHabit[] habits, EarState state) {
        int[] written = new int[EarState.FIELDS];
        for (int field = 0; field < written.length; field++) {
            written[field] = habits[field].write(luck, state.level(field), EarState.LEVELS[field]);
        }
        return EarState.findings(written);
    }

    /** Triage sees only what is told, so that the method says nothing more about the ear. */
    private Method planned(Luck luck, Patient patient, Map<Ear, EarFindings> reported) {
        double[] weights = truth.mix.clone();
        boolean hard = reported.values().stream().anyMatch(findings -> findings.wax() == Wax.HARD);
        boolean sticky = reported.values().stream().anyMatch(findings -> findings.wax() == Wax.STICKY);
        if (hard) {
            weights[Method.IRRIGATION.ordinal()] *= 0.5;
            weights[Method.MANUAL_REMOVAL.ordinal()] *= 1.5;
        }
        if (sticky) {
            weights[Method.MICROSUCTION.ordinal()] *= 1.4;
        }
        if (patient.lastMethod != null) {
            weights[patient.lastMethod.ordinal()] *= 2;
        }
        if (patient.cautions.contains(Caution.PERFORATION)) {
            weights[Method.IRRIGATION.ordinal()] = 0;
        }
        if (patient.cautions.contains(Caution.TINNITUS)) {
            weights[Method.MICROSUCTION.ordinal()] *= 0.5;
        }
        return Method.values()[luck.pick(weights)];
    }

    private List<InventedVisit> run(Luck luck, List<InventedVisit.Told> list, List<Patient> listed) {
        List<InventedVisit> done = new ArrayList<>();
        double ready = FIRST_START;
        for (int place = 0; place < list.size(); place++) {
            InventedVisit visit =
                    visit(luck, list.get(place), listed.get(place), (double) place / (list.size() - 1), ready);
            done.add(visit);
            Integer roomReady = visit.kept().roomReady();
            if (roomReady != null) {
                ready = roomReady + 0.5;
            }
        }
        pending.clear();
        return done;
    }

    private InventedVisit visit(Luck luck, InventedVisit.Told told, Patient patient, double place, double ready) {
        Map<Ear, EarState> states = pending.getOrDefault(told.number(), Map.of());
        double earliness = 8 + 9 * luck.normal();
        double turnaround = 1.5 + luck.gamma(2, 1.8);
        Work work = Work.of(luck, truth, told, patient.hidden, states, Map.of());
        double completion = Math.min(
                ClinicTruth.LONGEST,
                work.minutes()
                        * Math.exp(truth.pace[told.practitioner()]
                                + patient.hidden.pace()
                                + truth.noise[told.method().ordinal()] * truth.noiseAt(luck.unit()))
                        * truth.tiredness(place));
        double comfortStop = luck.exponential(1 / work.hazard());
        boolean attends = !luck.happens(patient.absence);
        boolean cancelled = luck.happens(0.04);
        InventedVisit.Truth happened =
                new InventedVisit.Truth(attends && !cancelled, earliness, completion, comfortStop, turnaround);
        Attendance absent = cancelled
                ? (luck.happens(0.8) ? Attendance.CANCELLED_BY_PATIENT : Attendance.CANCELLED_BY_CLINIC)
                : !attends ? Attendance.DID_NOT_ATTEND : null;
        if (absent == null && earliness < -20 && luck.happens(0.6)) {
            absent = Attendance.LATE_NOT_SEEN;
        }
        if (absent != null) {
            return new InventedVisit(told, kept(absent, told, earliness), happened);
        }
        return new InventedVisit(told, seen(luck, told, states, work, happened, ready), happened);
    }

    private static InventedVisit.Kept kept(Attendance absent, InventedVisit.Told told, double earliness) {
        Integer arrived = absent == Attendance.LATE_NOT_SEEN ? (int) Math.floor(told.bookedStart() - earliness) : null;
        return new InventedVisit.Kept(absent, Map.of(), Map.of(), arrived, null, null, null, StoppedEarly.NO, Map.of());
    }

    private InventedVisit.Kept seen(
            Luck luck,
            InventedVisit.Told told,
            Map<Ear, EarState> states,
            Work work,
            InventedVisit.Truth happened,
            double ready) {
        double arrival = told.bookedStart() - happened.earliness();
        double called = Math.max(Math.max(ready, arrival), told.bookedStart() - EARLY_ALLOWANCE);
        double late = Math.max(0, called - told.bookedStart());
        double full = happened.completion() * truth.hurry(late);
        // When far behind, some visits are stopped for time: by the clock, not by how the visit goes.
        double timeStop =
                late > 20 && luck.happens(0.25) ? told.slot() + luck.between(0, 10) : Double.POSITIVE_INFINITY;
        double room = Math.min(full, Math.min(happened.comfortStop(), timeStop));
        StoppedEarly stopped = room == full
                ? StoppedEarly.NO
                : room == timeStop
                        ? StoppedEarly.TIME
                        : luck.happens(0.85) ? StoppedEarly.COMFORT : StoppedEarly.SAFETY;
        int calledIn = (int) Math.floor(called);
        int finished = Math.max(calledIn + 1, (int) Math.floor(called + room));
        int roomReady = Math.max(finished, (int) Math.floor(called + room + happened.turnaround()));
        Map<Ear, EarFindings> found = new EnumMap<>(Ear.class);
        states.forEach((ear, state) -> found.put(
                ear, luck.happens(truth.noteMissing) ? EarFindings.UNKNOWN : written(luck, truth.notes, state)));
        Map<Ear, Outcome> outcomes = new EnumMap<>(Ear.class);
        states.keySet().forEach(ear -> outcomes.put(ear, outcome(luck, stopped)));
        boolean untimed = luck.happens(0.015);
        return new InventedVisit.Kept(
                happened.earliness() < -5 ? Attendance.ATTENDED_LATE : Attendance.ATTENDED,
                work.used(),
                found,
                (int) Math.floor(arrival),
                untimed ? null : (Integer) calledIn,
                untimed ? null : (Integer) finished,
                roomReady,
                stopped,
                outcomes);
    }

    private static Outcome outcome(Luck luck, StoppedEarly stopped) {
        if (stopped == StoppedEarly.NO) {
            return luck.happens(0.85) ? Outcome.CLEAR : Outcome.RESIDUAL;
        }
        return luck.happens(0.7) ? Outcome.RESIDUAL : Outcome.NOT_REMOVED;
    }
}
