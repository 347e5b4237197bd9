package org.earslot.estimate;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import java.util.concurrent.locks.ReentrantLock;
import net.javacrumbs.shedlock.core.SimpleLock;
import org.earslot.clinic.ClinicId;
import org.earslot.page.LoggedFailure;
import org.earslot.visit.VisitsImported;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Service;
import org.springframework.transaction.event.TransactionalEventListener;

/** Fits a clinic's estimator: on request, after an import, at night; one at a time however many servers run. */
@Service
public class Fits implements DisposableBean {

    private static final Logger LOG = LoggerFactory.getLogger(Fits.class);
    private static final Duration BETWEEN_TRIES = Duration.ofMillis(200);

    private final FitRuns runs;
    private final FitJob fitJob;
    private final Snapshots snapshots;
    private final SnapshotStore kept;
    private final FitSettings settings;
    private final Map<ClinicId, ReentrantLock> here = new ConcurrentHashMap<>();
    private final Map<ClinicId, ScheduledFuture<?>> waiting = new ConcurrentHashMap<>();
    private final ScheduledExecutorService background = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread thread = new Thread(task, "fits");
        thread.setDaemon(true);
        return thread;
    });

    Fits(FitRuns runs, FitJob fitJob, Snapshots snapshots, SnapshotStore kept, FitSettings settings) {
        this.runs = runs;
        this.fitJob = fitJob;
        this.snapshots = snapshots;
        this.kept = kept;
        this.settings = settings;
    }

    /** Fits now and returns what came out; waits for its turn where another fit is under way. */
    public Snapshot fit(ClinicId clinicId) {
        ReentrantLock lock = here.computeIfAbsent(clinicId, any -> new ReentrantLock());
        lock.lock();
        try {
            Optional<SimpleLock> run = runs.begin(clinicId);
            while (run.isEmpty()) {
                // Another server fits; its lock ends with the fit, or expires if it died.
                LockSupport.parkNanos(BETWEEN_TRIES.toNanos());
                run = runs.begin(clinicId);
            }
            return fitted(clinicId, run.get());
        } finally {
            lock.unlock();
        }
    }

    private Snapshot fitted(ClinicId clinicId, SimpleLock run) {
        Optional<String> failure = Optional.of("stopped");
        try {
            Snapshot snapshot = fitJob.run(clinicId, progress -> runs.report(clinicId, progress));
            failure = Optional.empty();
            return snapshot;
        } catch (RuntimeException e) {
            String reference = UUID.randomUUID().toString().substring(0, 8);
            LOG.error("Fit failed, reference {}", reference, LoggedFailure.of(e));
            failure = Optional.of(reference);
            throw e;
        } finally {
            runs.end(clinicId, run, failure);
        }
    }

    /** Starts a fit and returns at once; {@link #underWay} says how far it is. */
    public void fitInBackground(ClinicId clinicId) {
        soon(clinicId, Duration.ZERO);
    }

    /** Visits went in: a fit follows once no more have come for a while. */
    @TransactionalEventListener(fallbackExecution = true)
    void on(VisitsImported imported) {
        soon(imported.clinicId(), settings.afterImport());
    }

    @TransactionalEventListener(fallbackExecution = true)
    void on(LeadKnowledge.Changed changed) {
        soon(changed.clinicId(), Duration.ZERO);
    }

    @EventListener
    void on(OutdatedFit outdated) {
        soon(outdated.clinicId(), Duration.ZERO);
    }

    private void soon(ClinicId clinicId, Duration after) {
        waiting.compute(clinicId, (clinic, before) -> {
            if (before != null) {
                before.cancel(false);
            }
            return background.schedule(() -> quietly(clinic), after.toMillis(), TimeUnit.MILLISECONDS);
        });
    }

    private void quietly(ClinicId clinicId) {
        try {
            fit(clinicId);
        } catch (RuntimeException e) {
            LOG.warn("No new fit; the one in force stays");
        }
    }

    /** How far the fit under way is, on whichever server it runs; a fit about to start counts as reading. */
    public Optional<FitProgress> underWay(ClinicId clinicId) {
        ScheduledFuture<?> next = waiting.get(clinicId);
        boolean due = next != null && !next.isDone() && next.getDelay(TimeUnit.MILLISECONDS) <= 0;
        return runs.underWay(clinicId)
                .or(() -> due ? Optional.of(new FitProgress(FitProgress.Stage.READING, 0, 0)) : Optional.empty());
    }

    /** The reference in the log of the last fit's failure, if it failed. */
    public Optional<String> lastFailure(ClinicId clinicId) {
        return runs.lastFailure(clinicId);
    }

    /** The fit that estimates rest on now. */
    public Optional<Snapshot> inForce(ClinicId clinicId) {
        return snapshots.findByClinicIdAndInForceTrue(clinicId);
    }

    /** Its version alone, without reading what it learnt; empty before the first fit. */
    public Optional<String> versionInForce(ClinicId clinicId) {
        return snapshots.versionInForce(clinicId);
    }

    /** All kept fits, the latest first. */
    public List<Snapshot> all(ClinicId clinicId) {
        return snapshots.findByClinicIdOrderByFittedAtDesc(clinicId);
    }

    /** The versions that can be put in force again. */
    public List<String> canBePutInForce(ClinicId clinicId) {
        return new ArrayList<>(kept.wholeVersions(clinicId));
    }

    /** Puts an earlier fit in force; empty where there is none of that version, or only its numbers are kept. */
    public Optional<Snapshot> putInForce(ClinicId clinicId, String version) {
        return kept.putInForce(clinicId, version);
    }

    @Override
    public void destroy() {
        background.shutdownNow();
    }
}
