package org.earslot.review.advice;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.policy.PolicyTerms;
import org.earslot.clinic.policy.SlotKind;
import org.earslot.ear.StoppedEarly;
import org.earslot.estimate.Estimate;
import org.earslot.review.advice.SlotEvidence.Taken;
import org.earslot.review.figures.Share;
import org.earslot.visit.VisitRecord;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** The latest visits of one kind, and how those of a year came out; each by the index of the kind. */
@Repository
class KindVisits {

    /** So many of the latest are enough: the share of a quarter is then known to about 4 in 100. */
    static final int MOST = 400;

    private static final String KIND = " clinic_id = :clinic and method_planned = :method and ears = :ears"
            + " and visit_date between :first and :last and " + VisitRecord.SEEN;

    private static final String LATEST =
            "select visit_date, visit_ref, called_in, finished, room_ready, outside_minutes,"
                    + " stopped_early, case when estimate_version = :assumed then null else estimated_quantiles end as estimated"
                    + " from visit where" + KIND + " and not fit_in and " + VisitRecord.MAY_BE_LEARNT_FROM
                    + " order by visit_date desc, visit_ref fetch first " + MOST + " rows only";

    private static final String TOLD = "coalesce(right_outcome, left_outcome) is not null";
    private static final String RESIDUAL =
            "(right_outcome in ('residual', 'not_removed') or left_outcome in ('residual', 'not_removed'))";
    private static final String HARMED =
            "(coalesce(right_adverse_events, 'none') <> 'none' or coalesce(left_adverse_events, 'none') <> 'none')";

    private static final String OUTCOMES = "select later, count(*) as seen,"
            + " sum(case when " + TOLD + " then 1 else 0 end) as told,"
            + " sum(case when " + RESIDUAL + " then 1 else 0 end) as residual,"
            + " count(stopped_early) as asked,"
            + " sum(case when stopped_early <> 'no' then 1 else 0 end) as stopped,"
            + " sum(case when " + HARMED + " then 1 else 0 end) as harmed"
            + " from (select visit.*, case when visit_date < :half then 0 else 1 end as later from visit where"
            + KIND.replace("ears = :ears", "ears in (:ears)") + ") halves group by later";

    private final JdbcClient database;

    KindVisits(JdbcClient database) {
        this.database = database;
    }

    private record Dated(LocalDate date, String visitRef, Taken taken) {}

    /**
     * At most {@link #MOST} timed visits from {@code first} to {@code last}, the latest first. What was estimated on
     * assumptions, before anything was learnt, says nothing of the slots given now.
     */
    SlotEvidence latest(
            ClinicId clinicId, SlotKind kind, LocalDate first, LocalDate last, PastSlots slots, PolicyTerms terms) {
        List<Dated> found = new ArrayList<>();
        for (String ears : ears(kind)) {
            found.addAll(database.sql(LATEST)
                    .param("clinic", clinicId.value())
                    .param("method", kind.method().code())
                    .param("ears", ears)
                    .param("first", first)
                    .param("last", last)
                    .param("assumed", Estimate.ASSUMED)
                    .query((row, number) -> new Dated(
                            new VisitRecord(row).date(), row.getString("visit_ref"), taken(row, kind, slots, terms)))
                    .list());
        }
        return new SlotEvidence(found.stream()
                .sorted(Comparator.comparing(Dated::date).reversed().thenComparing(Dated::visitRef))
                .limit(MOST)
                .map(Dated::taken)
                .toList());
    }

    private static Taken taken(ResultSet row, SlotKind kind, PastSlots slots, PolicyTerms terms) throws SQLException {
        VisitRecord visit = new VisitRecord(row);
        Instant ready = visit.roomReady();
        // If nobody noted when the room was ready, the policy's turnaround is used.
        double turnaround =
                ready == null ? terms.turnaroundMinutes(kind.method()) : VisitRecord.minutes(visit.finished(), ready);
        return new Taken(
                visit.minutesInRoom() + turnaround,
                visit.stoppedEarly() == StoppedEarly.TIME,
                slots.needed(kind, row.getString("estimated"), terms));
    }

    /** How such visits came out from {@code first} to before {@code half}, and from then to {@code last}. */
    PastOutcomes outcomes(ClinicId clinicId, SlotKind kind, LocalDate first, LocalDate half, LocalDate last) {
        PastOutcomes.Half[] halves = {NOTHING, NOTHING};
        database.sql(OUTCOMES)
                .param("clinic", clinicId.value())
                .param("method", kind.method().code())
                .param("ears", ears(kind))
                .param("first", first)
                .param("half", half)
                .param("last", last)
                .query(row -> {
                    halves[row.getInt("later")] = new PastOutcomes.Half(
                            new Share(row.getInt("residual"), row.getInt("told")),
                            new Share(row.getInt("stopped"), row.getInt("asked")),
                            new Share(row.getInt("harmed"), row.getInt("seen")));
                });
        return new PastOutcomes(halves[0], halves[1]);
    }

    private static final PastOutcomes.Half NOTHING =
            new PastOutcomes.Half(new Share(0, 0), new Share(0, 0), new Share(0, 0));

    private static List<String> ears(SlotKind kind) {
        return kind.bothEars() ? List.of("both") : List.of("right", "left");
    }
}
