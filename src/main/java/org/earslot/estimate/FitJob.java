package org.earslot.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Practitioner;
import org.earslot.clinic.Practitioners;
import org.earslot.duration.FittedModel;
import org.earslot.duration.past.RowOrder;
import org.earslot.duration.table.VisitRow;
import org.earslot.estimate.FitProgress.Stage;
import org.springframework.stereotype.Component;

/** One fit from the stored visits to the stored snapshot. */
@Component
class FitJob {

    private static final int REPORT_EVERY = 20_000;

    private final StoredVisits visits;
    private final CurrentChoices current;
    private final Practitioners practitioners;
    private final SnapshotStore kept;
    private final Snapshots snapshots;
    private final ActiveModelProvider inForce;
    private final ClinicClock clock;

    FitJob(
            StoredVisits visits,
            CurrentChoices current,
            Practitioners practitioners,
            SnapshotStore kept,
            Snapshots snapshots,
            ActiveModelProvider inForce,
            ClinicClock clock) {
        this.visits = visits;
        this.current = current;
        this.practitioners = practitioners;
        this.kept = kept;
        this.snapshots = snapshots;
        this.inForce = inForce;
        this.clock = clock;
    }

    /**
     * Reads, fits, judges and stores. The same visits under the same choices make no second snapshot: the first is put in
     * force again.
     */
    Snapshot run(ClinicId clinicId, Consumer<FitProgress> progress) {
        FitChoices choices = current.of(clinicId);
        List<VisitRow> rows = read(clinicId, choices.terms(), progress);
        String hash = Snapshot.hash(choices.text(), TableHash.of(rows, names(clinicId)));
        String version = clock.today(clinicId) + "." + hash.substring(0, 8);
        Optional<Snapshot> same = sameAs(clinicId, version, hash);
        if (same.isPresent() && kept.readable(same.get())) {
            return same.get();
        }
        progress.accept(new FitProgress(Stage.FITTING, 0, 0));
        long started = System.nanoTime();
        FittedModel model = choices.asEstimator().fit(rows);
        double seconds = (System.nanoTime() - started) / 1e9;
        if (same.isPresent()) {
            // The same visits give the same model, in place of the one that is damaged.
            kept.replace(same.get(), model);
            return same.get();
        }
        progress.accept(new FitProgress(Stage.JUDGING, 0, 0));
        FitScores scores = FitScores.of(rows, choices.asEstimator(), choices.slotProbability());
        progress.accept(new FitProgress(Stage.KEEPING, 0, 0));
        ModelReport learnt = ModelReport.of(rows, model);
        Snapshot.Fitted fitted =
                new Snapshot.Fitted((int) model.visits(), (int) model.stoppedEarly(), seconds, scores, learnt, hash);
        Snapshot snapshot = kept.keep(clinicId, new Snapshot(clinicId, version, clock.now(), choices, fitted), model);
        inForce.hold(clinicId, ActiveModel.of(version, model, choices));
        return snapshot;
    }

    private List<VisitRow> read(ClinicId clinicId, EstimatorTerms terms, Consumer<FitProgress> progress) {
        long total = visits.count(clinicId);
        List<VisitRow> rows = new ArrayList<>((int) Math.min(total, 1 << 24));
        progress.accept(new FitProgress(Stage.READING, 0, total));
        visits.each(clinicId, visit -> {
            terms.row(visit).ifPresent(rows::add);
            if (rows.size() % REPORT_EVERY == 0) {
                progress.accept(new FitProgress(Stage.READING, rows.size(), total));
            }
        });
        // In an order of their own, so that neither the database nor the day of an import shows in what follows.
        return RowOrder.inOrder(rows, FitChoices.PRIORS);
    }

    /** What practitioners are called, by the id that stands in the rows. */
    private Map<String, String> names(ClinicId clinicId) {
        return practitioners.findByClinicIdOrderByName(clinicId).stream()
                .collect(Collectors.toMap(one -> one.id().toString(), Practitioner::name));
    }

    private Optional<Snapshot> sameAs(ClinicId clinicId, String version, String hash) {
        Optional<Snapshot> current = snapshots
                .findByClinicIdAndInForceTrue(clinicId)
                .filter(snapshot -> snapshot.contentHash().equals(hash));
        Optional<Snapshot> earlier = snapshots
                .findByClinicIdAndVersion(clinicId, version)
                .filter(snapshot -> snapshot.contentHash().equals(hash));
        return current.or(() -> earlier.map(snapshot -> kept.again(clinicId, snapshot)));
    }
}
