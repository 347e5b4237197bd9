package org.earslot.exchange.imports;

import java.io.IOException;
import java.io.InputStream;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.PatientNames;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.CsvRow;
import org.earslot.exchange.csv.FileForm;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.page.LoggedFailure;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Takes a file in: row by row, in batches, all in one transaction. Either every good line of the file is in at the end, or
 * none is; a dry run is the same, taken back at the end. So the same file can always be sent again.
 */
@Component
class ImportRunner {

    private static final Logger LOG = LoggerFactory.getLogger(ImportRunner.class);
    private static final int BATCH = 1000;

    /** Telling of progress is a commit of its own, which H2 pays for with a write of all that has changed. */
    private static final Duration BETWEEN_TELLING = Duration.ofMillis(700);

    static final String SERVER_STOPPED =
            "The server stopped during this import. Nothing of the file went in; send it again.";

    private final List<CsvImport> imports;
    private final RunLedger ledger;
    private final Uploads uploads;
    private final ClinicClock clock;
    private final PatientNames names;
    private final ApplicationEventPublisher events;
    private final TransactionTemplate inOne;
    private volatile boolean stopping;

    ImportRunner(
            List<CsvImport> imports,
            RunLedger ledger,
            Uploads uploads,
            ClinicClock clock,
            PatientNames names,
            ApplicationEventPublisher events,
            PlatformTransactionManager transactions) {
        this.imports = imports;
        this.ledger = ledger;
        this.uploads = uploads;
        this.clock = clock;
        this.names = names;
        this.events = events;
        this.inOne = new TransactionTemplate(transactions);
    }

    /** Lets no run begin another batch. */
    void stop() {
        stopping = true;
    }

    /** Runs and keeps every failure in the record of the run. */
    void inBackground(UUID runId, ImportTerms terms, Upload upload, FileForm form) {
        try {
            run(runId, terms, upload, form);
        } catch (UnreadableFile | RuntimeException e) {
            LOG.debug("The record of run {} tells what happened", runId);
        }
    }

    /** Runs; what failed is in the record of the run, and thrown. */
    void run(UUID runId, ImportTerms terms, Upload upload, FileForm form) throws UnreadableFile {
        CsvImport kind = imports.stream()
                .filter(candidate -> candidate.kind() == terms.kind())
                .findFirst()
                .orElseThrow();
        ImportResult taken = new ImportResult(kind.idColumn());
        try {
            ledger.write(runId, ImportRun::begin);
            CsvImport.Taking taking = inOne.execute(status -> {
                CsvImport.Taking begun = kind.begin(terms, taken);
                read(runId, upload, form, begun, taken);
                if (terms.dryRun()) {
                    status.setRollbackOnly();
                } else {
                    trail(runId, terms, taken);
                }
                return begun;
            });
            ledger.write(runId, run -> run.end(clock.now()));
            if (!terms.dryRun()) {
                uploads.remove(upload);
                announce(runId, taking, taken);
            }
        } catch (TooManyRejected e) {
            UnreadableFile told = e.told();
            ledger.advance(runId, taken, upload.bytes());
            ledger.write(runId, run -> run.fail(said(told), clock.now()));
            throw told;
        } catch (Unreadable e) {
            ledger.write(runId, run -> run.fail(said(e.file), clock.now()));
            throw e.file;
        } catch (RuntimeException e) {
            String reference = UUID.randomUUID().toString().substring(0, 8);
            LOG.error("Import run {} failed, reference {}", runId, reference, LoggedFailure.of(e));
            String told = stopping ? SERVER_STOPPED : unexpected(reference);
            ledger.write(runId, run -> run.fail(told, clock.now()));
            throw e;
        }
    }

    /** Says in the audit trail how many lines went in, and of which patients. */
    private void trail(UUID runId, ImportTerms terms, ImportResult taken) {
        Set<UUID> patients = names.numbered(terms.clinicId(), taken.patientRefs());
        events.publishEvent(new Imported(terms, runId, taken.accepted(), patients));
    }

    /** A file went in. */
    private record Imported(ImportTerms terms, UUID runId, long lines, Set<UUID> patients) implements Audited {

        @Override
        public ClinicId clinicId() {
            return terms.clinicId();
        }

        @Override
        public String actor() {
            return terms.who();
        }

        @Override
        public String action() {
            return "import-took-in";
        }

        @Override
        public String subjectKind() {
            return "import-run";
        }

        @Override
        public String subjectId() {
            return runId.toString();
        }

        @Override
        public String detail() {
            return lines + " lines, " + patients.size() + " patients on record";
        }
    }

    private void read(UUID runId, Upload upload, FileForm form, CsvImport.Taking taking, ImportResult taken) {
        try (InputStream in = upload.open()) {
            CsvReader reader = new CsvReader(in, form.charset(), form.separator());
            CsvRow.Whole header = reader.header();
            FileForm.Headed headed = form.head(header.cells());
            ledger.write(runId, run -> run.readHeader(header.raw(), form.separator(), headed.unknown()));
            List<Cells> batch = new ArrayList<>(BATCH);
            int rows = 0;
            long told = System.nanoTime();
            for (CsvRow row = reader.next(); row != null; row = reader.next()) {
                if (row instanceof CsvRow.Whole whole) {
                    batch.add(headed.cells(whole));
                } else if (row instanceof CsvRow.Broken broken) {
                    taken.reject(
                            row.line(), "", row.raw(), List.of(broken.breakage().fault()));
                }
                if (++rows % BATCH == 0) {
                    take(batch, taking);
                    if (System.nanoTime() - told > BETWEEN_TELLING.toNanos()) {
                        ledger.advance(runId, taken, reader.bytesRead());
                        told = System.nanoTime();
                    }
                }
            }
            take(batch, taking);
            taking.finish();
            ledger.advance(runId, taken, reader.bytesRead());
        } catch (UnreadableFile e) {
            throw new Unreadable(e);
        } catch (IOException e) {
            throw new IllegalStateException("the uploaded file cannot be read", e);
        }
    }

    private void take(List<Cells> batch, CsvImport.Taking taking) {
        if (stopping) {
            throw new IllegalStateException("the server is stopping");
        }
        taking.take(batch);
        batch.clear();
    }

    /** The lines are in whatever a listener makes of it. */
    private static void announce(UUID runId, CsvImport.Taking taking, ImportResult taken) {
        try {
            taking.committed(taken.accepted());
        } catch (RuntimeException e) {
            LOG.error("Import run {} is in, but its announcement failed", runId, LoggedFailure.of(e));
        }
    }

    private static String said(UnreadableFile file) {
        return file.faults().stream()
                .map(fault -> (fault.column().isEmpty() ? "" : fault.column() + ": ") + fault.reason() + "; "
                        + fault.remedy() + ".")
                .collect(Collectors.joining("\n"));
    }

    private static String unexpected(String reference) {
        return "The import stopped on an unexpected failure (reference " + reference
                + "). Nothing of the file went in; send it again, or tell whoever looks after the server.";
    }

    /** Carries an unreadable file out of the transaction, taking it back. */
    private static final class Unreadable extends RuntimeException {

        private final transient UnreadableFile file;

        Unreadable(UnreadableFile file) {
            super(file);
            this.file = file;
        }
    }
}
