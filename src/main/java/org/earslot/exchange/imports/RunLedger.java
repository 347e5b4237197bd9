package org.earslot.exchange.imports;

import java.util.UUID;
import java.util.function.Consumer;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/** Writes how far a run has come in transactions of its own, so that it can be watched, and stays when the run is taken back. */
@Component
class RunLedger {

    private final StoredRuns runs;
    private final Rejections rejections;
    private final TransactionTemplate apart;

    RunLedger(StoredRuns runs, Rejections rejections, PlatformTransactionManager transactions) {
        this.runs = runs;
        this.rejections = rejections;
        this.apart = new TransactionTemplate(transactions);
        this.apart.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
    }

    void write(UUID runId, Consumer<ImportRun> change) {
        apart.executeWithoutResult(status -> change.accept(runs.findById(runId).orElseThrow()));
    }

    void advance(UUID runId, ImportResult taken, long bytesRead) {
        apart.executeWithoutResult(status -> {
            runs.findById(runId).orElseThrow().advance(taken, bytesRead);
            rejections.store(runId, taken.newRejections());
        });
    }
}
