package org.earslot.exchange.imports;

import jakarta.annotation.PreDestroy;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.exchange.csv.FileForm;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.page.BrokenConstraint;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.context.event.EventListener;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.data.domain.Limit;
import org.springframework.stereotype.Service;

/** Starts runs and tells of them; one clinic has one run at a time. */
@Service
public class ImportRuns {

    private static final int LISTED = 20;
    private static final int THREADS = 2;
    private static final long SECONDS_TO_END = 25;

    private final StoredRuns runs;
    private final ImportRunner runner;
    private final Rejections rejections;
    private final Uploads uploads;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;
    private final ExecutorService background = Executors.newFixedThreadPool(THREADS, task -> {
        Thread thread = new Thread(task, "import");
        thread.setDaemon(true);
        return thread;
    });

    ImportRuns(
            StoredRuns runs,
            ImportRunner runner,
            Rejections rejections,
            Uploads uploads,
            ClinicClock clock,
            ApplicationEventPublisher events) {
        this.runs = runs;
        this.runner = runner;
        this.rejections = rejections;
        this.uploads = uploads;
        this.clock = clock;
        this.events = events;
    }

    /** What came of asking for a run. */
    public sealed interface Start {

        /** The run is under way. */
        record Started(UUID runId) implements Start {}

        /** Another run of the clinic is not finished yet, so none was started. */
        record ImportUnderWay() implements Start {}
    }

    /** Starts a run in the background. */
    public Start start(ImportTerms terms, Upload upload, FileForm form, boolean mapped) {
        Optional<ImportRun> run = admit(terms, upload, mapped);
        run.ifPresent(admitted -> upload.readAs(form));
        run.ifPresent(admitted -> background.execute(() -> runner.inBackground(admitted.id(), terms, upload, form)));
        return run.<Start>map(admitted -> new Start.Started(admitted.id())).orElseGet(Start.ImportUnderWay::new);
    }

    /** Runs now and returns when it is over: the finished run, or empty where another run of the clinic is under way. */
    public Optional<ImportRun> runNow(ImportTerms terms, Upload upload, FileForm form) throws UnreadableFile {
        Optional<ImportRun> run = admit(terms, upload, false);
        if (run.isPresent()) {
            runner.run(run.get().id(), terms, upload, form);
        }
        return run.flatMap(admitted -> runs.findById(admitted.id()));
    }

    /** The run of that clinic. */
    public Optional<ImportRun> find(ClinicId clinicId, UUID id) {
        return runs.findByClinicIdAndId(clinicId, id);
    }

    /** The latest runs of a clinic, the newest first. */
    public List<ImportRun> latest(ClinicId clinicId) {
        return runs.findByClinicIdOrderByStartedAtDesc(clinicId, Limit.of(LISTED));
    }

    /** Rejected lines hold what the file held, so only those of the latest runs are kept. */
    private Optional<ImportRun> admit(ImportTerms terms, Upload upload, boolean mapped) {
        ImportRun run = new ImportRun(terms, upload, mapped, clock.now());
        try {
            runs.saveAndFlush(run);
        } catch (DataIntegrityViolationException e) {
            if (BrokenConstraint.of(e) != BrokenConstraint.BETWEEN_RECORDS) {
                throw e;
            }
            return Optional.empty();
        }
        List<ImportRun> known = runs.findByClinicIdOrderByStartedAtDesc(terms.clinicId(), Limit.of(LISTED + 1));
        if (known.size() > LISTED) {
            rejections.delete(known.get(LISTED).id());
        }
        String how = terms.kind().code() + (terms.dryRun() ? ", dry run" : "") + (terms.update() ? ", update" : "");
        events.publishEvent(new Audited.Entry(
                terms.clinicId(), "import-run", "import-run", run.id().toString(), how));
        return Optional.of(run);
    }

    /** A run that was under way when the server last stopped has been taken back by its database. */
    @EventListener(ApplicationReadyEvent.class)
    void failThoseStoppedEarly() {
        for (ImportRun run : runs.findByRunningForNotNull()) {
            run.fail(ImportRunner.SERVER_STOPPED, clock.now());
            runs.save(run);
        }
    }

    @PreDestroy
    void stop() throws InterruptedException {
        runner.stop();
        background.shutdown();
        background.awaitTermination(SECONDS_TO_END, TimeUnit.SECONDS);
        uploads.close();
    }
}
