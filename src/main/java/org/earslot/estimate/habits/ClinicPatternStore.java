package org.earslot.estimate.habits;

import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Answer;
import org.earslot.ear.Attendance;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.BookedEstimate;
import org.earslot.estimate.QuantileDistribution;
import org.earslot.visit.VisitRecord;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Repository;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.databind.json.JsonMapper;

/** Counts who came and when, and keeps what was learnt beside its fit. */
@Repository
class ClinicPatternStore {

    /** ClinicPatterns change: only so many of the latest booked visits count. */
    private static final int LATEST = 5_000;

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final JdbcTemplate jdbc;

    ClinicPatternStore(JdbcTemplate jdbc) {
        this.jdbc = jdbc;
    }

    /** As it is stored. */
    record Stored(AttendanceCounts coming, List<StoredVisit> usual) {}

    /** Codes, and the time in room by its quantiles. */
    record StoredVisit(String method, String ears, double mean, double sd, Map<Double, Double> inRoom) {

        UsualVisit visit() {
            return new UsualVisit(
                    Method.of(method).orElseThrow(),
                    Ears.of(ears).orElseThrow(),
                    new QuantileDistribution(inRoom, mean, sd));
        }

        static StoredVisit of(UsualVisit visit) {
            return new StoredVisit(
                    visit.method().code(),
                    visit.ears().code(),
                    visit.inRoom().mean(),
                    visit.inRoom().standardDeviation(),
                    BookedEstimate.quantiles(visit.inRoom()));
        }
    }

    Optional<ClinicPatterns> read(ClinicId clinicId, String version) {
        return jdbc
                .queryForList(
                        "select habits from clinic_habit where clinic_id = ? and version = ?",
                        String.class,
                        clinicId.value(),
                        version)
                .stream()
                .findFirst()
                .map(text -> habits(version, JSON.readValue(text, Stored.class)));
    }

    /** Keeps them; where another server was first, what that one kept holds. A search only reads, so this stands alone. */
    @Transactional(propagation = Propagation.REQUIRES_NEW)
    public ClinicPatterns keep(ClinicId clinicId, String version, AttendanceCounts coming, List<UsualVisit> usual) {
        Stored stored = new Stored(coming, usual.stream().map(StoredVisit::of).toList());
        jdbc.update("""
                insert into clinic_habit (clinic_id, version, habits)
                select ?, ?, ? where not exists (select 1 from clinic_habit where clinic_id = ? and version = ?)
                """, clinicId.value(), version, JSON.writeValueAsString(stored), clinicId.value(), version);
        return habits(version, stored);
    }

    private static ClinicPatterns habits(String version, Stored stored) {
        return new ClinicPatterns(
                version,
                AttendanceModel.of(stored.coming()),
                stored.usual().stream().map(StoredVisit::visit).toList());
    }

    /** Booked visits of the log that took place or should have. */
    AttendanceCounts counted(ClinicId clinicId) {
        Tally tally = new Tally();
        jdbc.query(
                """
                select first_visit, attendance, booked_start, arrived, times_entered_later from visit
                where clinic_id = ? and not fit_in
                  and attendance in ('attended', 'attended_late', 'late_not_seen', 'did_not_attend')
                order by visit_date desc, visit_ref
                """ + " fetch first " + LATEST + " rows only",
                row -> {
                    VisitRecord visit = new VisitRecord(row);
                    boolean absent = visit.attendance() == Attendance.DID_NOT_ATTEND
                            || visit.attendance() == Attendance.LATE_NOT_SEEN;
                    tally.visit(visit.firstVisit(), absent);
                    Instant booked = visit.bookedStart();
                    Instant arrived = visit.arrived();
                    if (!absent && booked != null && arrived != null && !visit.timesEnteredLater()) {
                        tally.arrival(Duration.between(booked, arrived).toMinutes());
                    }
                },
                clinicId.value());
        return tally.counts();
    }

    private static final class Tally {
        private final int[][] booked = new int[Answer.values().length][2];
        private final Map<Integer, Integer> arrivals = new HashMap<>();

        void visit(Answer first, boolean absent) {
            booked[first.ordinal()][0]++;
            booked[first.ordinal()][1] += absent ? 1 : 0;
        }

        /** Further off than an hour is a slip or another day's story. */
        void arrival(long minutes) {
            if (Math.abs(minutes) <= AttendanceModel.EARLIEST_MINUTES) {
                arrivals.merge((int) minutes, 1, Integer::sum);
            }
        }

        AttendanceCounts counts() {
            int[] first = booked[Answer.YES.ordinal()];
            int[] followUp = booked[Answer.NO.ordinal()];
            int[] other = booked[Answer.NOT_KNOWN.ordinal()];
            return new AttendanceCounts(
                    first[0], first[1], followUp[0], followUp[1], other[0], other[1], new TreeMap<>(arrivals));
        }
    }
}
