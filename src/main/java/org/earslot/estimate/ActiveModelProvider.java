package org.earslot.estimate;

import java.util.List;
import java.util.Optional;
import org.earslot.clinic.ClinicId;
import org.earslot.duration.FittedModel;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.ApplicationEventPublisher;
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
    private final ApplicationEventPublisher events;
    private final InForceCache<ActiveModel> cache = new InForceCache<>(MAXIMUM_CLINICS);
    private final ActiveModel assumed;

    ActiveModelProvider(Snapshots snapshots, SnapshotStore kept, ApplicationEventPublisher events) {
        this.snapshots = snapshots;
        this.kept = kept;
        this.events = events;
        FitChoices choices = FitChoices.now(false, 0.75);
        this.assumed = ActiveModel.of(Estimate.ASSUMED, choices.asEstimator().fit(List.of()), choices);
    }

    /** The model that estimates of this clinic rest on now; what is assumed of any clinic where there was no fit. */
    public ActiveModel of(ClinicId clinicId) {
        return snapshots
                .versionInForce(clinicId)
                .map(version -> cache.get(clinicId, version, () -> loaded(clinicId, version)))
                .orElse(assumed);
    }

    /** Takes a model that was fitted here, to spare reading it. */
    void hold(ClinicId clinicId, ActiveModel learnt) {
        cache.put(clinicId, learnt.version(), learnt);
    }

    private ActiveModel loaded(ClinicId clinicId, String version) {
        Snapshot snapshot =
                snapshots.findByClinicIdAndVersion(clinicId, version).orElseThrow();
        Optional<FittedModel> model = kept.model(snapshot);
        if (!snapshot.computedAsNow()) {
            LOG.warn(
                    "The fit {} was made by another release and {} until a new one is in force",
                    version,
                    model.isPresent() ? "is used" : "cannot be read");
            events.publishEvent(new OutdatedFit(clinicId));
        }
        return model.map(read -> ActiveModel.of(version, read, snapshot.choices()))
                .orElse(assumed);
    }
}
