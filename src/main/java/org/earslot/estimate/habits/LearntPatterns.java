package org.earslot.estimate.habits;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.ear.Ear;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.estimate.ActiveModel;
import org.earslot.estimate.ActiveModelProvider;
import org.earslot.estimate.BookedEstimate;
import org.earslot.estimate.Estimate;
import org.earslot.estimate.InForceCache;
import org.earslot.estimate.PastVisit;
import org.earslot.estimate.QuantileDistribution;
import org.earslot.estimate.Snapshots;
import org.earslot.estimate.StoredVisits;
import org.earslot.estimate.VisitPlan;
import org.earslot.minutes.MinutesDistribution;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;

/**
 * The habits of each clinic: learnt once for each fit, kept beside it, and from then on the same on every server. Where
 * there is no fit, what is assumed of any clinic.
 */
@Service
public class LearntPatterns {

    private static final int MAXIMUM_CLINICS = 1_000;

    /** So many of the latest visits stand for the clinic's mix. */
    private static final int LATEST = 160;

    /** Common practice, no source: mostly suction, mostly both ears. */
    private static final List<VisitPlan> ASSUMED_VISITS = List.of(
            VisitPlan.of(Method.MICROSUCTION, Ears.BOTH),
            VisitPlan.of(Method.MICROSUCTION, Ears.BOTH),
            VisitPlan.of(Method.MICROSUCTION, Ears.RIGHT),
            VisitPlan.of(Method.IRRIGATION, Ears.BOTH),
            VisitPlan.of(Method.MANUAL_REMOVAL, Ears.BOTH),
            VisitPlan.of(Method.MANUAL_REMOVAL, Ears.LEFT));

    private final Snapshots snapshots;
    private final ActiveModelProvider inForce;
    private final ClinicPatternStore kept;
    private final StoredVisits visits;
    private final ClinicClock clock;
    private final InForceCache<ClinicPatterns> cache = new InForceCache<>(MAXIMUM_CLINICS);

    LearntPatterns(
            Snapshots snapshots,
            ActiveModelProvider inForce,
            ClinicPatternStore kept,
            StoredVisits visits,
            ClinicClock clock) {
        this.snapshots = snapshots;
        this.inForce = inForce;
        this.kept = kept;
        this.visits = visits;
        this.clock = clock;
    }

    /** The habits beside the fit in force. */
    public ClinicPatterns of(ClinicId clinicId) {
        String version = snapshots.versionInForce(clinicId).orElse(Estimate.ASSUMED);
        // What is stored needs no model; a day is shown before one is loaded.
        return cache.get(
                clinicId,
                version,
                () -> kept.read(clinicId, version).orElseGet(() -> made(clinicId, inForce.of(clinicId))));
    }

    private ClinicPatterns made(ClinicId clinicId, ActiveModel learnt) {
        if (learnt.version().equals(Estimate.ASSUMED)) {
            return new ClinicPatterns(
                    learnt.version(), AttendanceModel.ASSUMED, predicted(ASSUMED_VISITS, learnt, clinicId));
        }
        List<PastVisit> latest = visits.latest(clinicId, LATEST);
        List<UsualVisit> usual = latest.isEmpty()
                ? predicted(ASSUMED_VISITS, learnt, clinicId)
                : latest.stream()
                        .map(visit -> usual(visit, learnt, clock.today(clinicId).toEpochDay()))
                        .toList();
        return kept.keep(clinicId, learnt.version(), kept.counted(clinicId), usual);
    }

    private List<UsualVisit> predicted(List<VisitPlan> plans, ActiveModel learnt, ClinicId clinicId) {
        long today = clock.today(clinicId).toEpochDay();
        List<UsualVisit> usual = new ArrayList<>();
        for (VisitPlan plan : plans) {
            usual.add(predicted(plan, learnt, null, null, today));
        }
        return usual;
    }

    private static UsualVisit usual(PastVisit visit, ActiveModel learnt, long today) {
        VisitPlan plan = new VisitPlan(
                null,
                null,
                visit.method(),
                visit.ears(),
                visit.firstVisit(),
                visit.hearingAid(),
                visit.cautions(),
                visit.softenerDays(),
                Map.of(
                        Ear.RIGHT,
                        visit.right().reported(),
                        Ear.LEFT,
                        visit.left().reported()),
                visit.referrer());
        return predicted(plan, learnt, visit.practitioner(), visit.dominantHand(), today);
    }

    private static UsualVisit predicted(
            VisitPlan plan, ActiveModel learnt, @Nullable String practitioner, @Nullable Ear hand, long today) {
        MinutesDistribution inRoom = learnt.model()
                .predict(learnt.terms().plan(plan, practitioner, hand, today))
                .inRoom();
        return new UsualVisit(
                plan.method(),
                plan.ears(),
                new QuantileDistribution(BookedEstimate.quantiles(inRoom), inRoom.mean(), inRoom.standardDeviation()));
    }
}
