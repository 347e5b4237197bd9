package org.earslot.estimate;

import java.util.List;
import java.util.UUID;
import org.earslot.duration.FittedModel;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Component;

/**
 * The model in force of each clinic, in memory. Every use asks the database which version is in force, so a fit on one
 * server reaches all the others with the next estimate.
 */
@Component
public class ActiveModelProvider {

    private static final Logger LOG = LoggerFactory.getLogger(ActiveModelProvider.class);

    private static final int MAXIMUM_CLINICS = 1_000;

    private final Snapshots snapshots;
    private final SnapshotStore kept;
    private final InForceCache<ActiveModel> cache = new InForceCache<>(MAXIMUM_CLINICS);
    private final ActiveModel assumed;

    ActiveModelProvider(Snapshots snapshots, SnapshotStore kept) {
        this.snapshots = snapshots;
        this.kept = kept;
        this.assumed = new ActiveModel(Estimate.ASSUMED, assumedModel(), new EstimatorTerms(false));
    }

    /** The model that estimates of this clinic rest on now; what is assumed of any clinic where there was no fit. */
    public ActiveModel of(UUID clinicId) {
        return snapshots
                .versionInForce(clinicId)
                .map(version -> cache.get(clinicId, version, () -> made(clinicId, version)))
                .orElse(assumed);
    }

    /** Takes a model that was fitted here, to spare making it again. */
    void hold(UUID clinicId, ActiveModel learnt) {
        cache.put(clinicId, learnt.version(), learnt);
    }

    private ActiveModel made(UUID clinicId, String version) {
        Snapshot snapshot =
                snapshots.findByClinicIdAndVersion(clinicId, version).orElseThrow();
        FitChoices choices = snapshot.choices();
        if (!choices.computedAsNow()) {
            LOG.warn("The fit {} was made by another release; its visits are fitted as this one computes", version);
        }
        FittedModel model = choices.asEstimator().fit(kept.table(snapshot));
        return new ActiveModel(version, model, new EstimatorTerms(choices.occlusion()));
    }

    private static FittedModel assumedModel() {
        return FitChoices.now(false, 0.75).asEstimator().fit(List.of());
    }
}
