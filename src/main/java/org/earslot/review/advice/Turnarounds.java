package org.earslot.review.advice;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.ear.Method;
import org.earslot.visit.VisitRecord;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Learns from the visit log how long rooms take to be made ready. */
@Repository
class Turnarounds {

    /** So many of the latest visits are enough: a mean is then known to a tenth of a minute. */
    private static final int MOST = 2_000;

    /** Longer than this nobody made the room ready: the press was forgotten. The project's own assumption. */
    private static final double LONGEST = 30;

    private static final String LATEST =
            "select method_planned, finished, room_ready, p.name as practitioner from visit"
                    + " join practitioner p on p.id = practitioner_id"
                    + " where visit.clinic_id = :clinic and method_planned is not null and room_ready is not null"
                    + " and visit_date between :first and :last and " + VisitRecord.MAY_BE_LEARNT_FROM
                    + " order by visit_date desc, visit_ref fetch first " + MOST + " rows only";

    private final JdbcClient database;

    Turnarounds(JdbcClient database) {
        this.database = database;
    }

    private record Seen(Method method, String practitioner, double minutes) {}

    private static final class Sum {
        private int count;
        private double sum;
        private double squares;

        void add(double minutes) {
            count++;
            sum += minutes;
            squares += minutes * minutes;
        }

        double mean() {
            return sum / count;
        }

        /** Half the width of the interval that holds the true mean 95 times in 100. */
        double margin() {
            double variance = Math.max(0, squares / count - mean() * mean());
            return 1.96 * Math.sqrt(variance / count);
        }
    }

    /** Of each method with a timed turnaround from {@code first} to {@code last}. */
    List<TurnaroundLine> between(ClinicId clinicId, LocalDate first, LocalDate last, PolicyTerms terms) {
        List<Seen> seen = database.sql(LATEST)
                .param("clinic", clinicId.value())
                .param("first", first)
                .param("last", last)
                .query((row, number) -> {
                    VisitRecord visit = new VisitRecord(row);
                    return new Seen(
                            Method.of(row.getString("method_planned")).orElseThrow(),
                            row.getString("practitioner"),
                            VisitRecord.minutes(visit.finished(), visit.roomReady()));
                })
                .list();
        Map<Method, Sum> all = new EnumMap<>(Method.class);
        Map<Method, Map<String, Sum>> each = new EnumMap<>(Method.class);
        seen.stream()
                .filter(one -> one.minutes() >= 0 && one.minutes() <= LONGEST)
                .forEach(one -> {
                    all.computeIfAbsent(one.method(), any -> new Sum()).add(one.minutes());
                    each.computeIfAbsent(one.method(), any -> new TreeMap<>())
                            .computeIfAbsent(one.practitioner(), any -> new Sum())
                            .add(one.minutes());
                });
        List<TurnaroundLine> lines = new ArrayList<>();
        all.forEach((method, sum) -> lines.add(new TurnaroundLine(
                method,
                terms.turnaroundMinutes(method),
                sum.mean(),
                sum.margin(),
                sum.count,
                each.get(method).entrySet().stream()
                        .map(by ->
                                new TurnaroundLine.By(by.getKey(), by.getValue().mean(), by.getValue().count))
                        .toList())));
        return lines;
    }
}
