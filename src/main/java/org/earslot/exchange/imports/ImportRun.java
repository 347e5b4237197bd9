package org.earslot.exchange.imports;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** One run of an import: on which terms, how far it has come, and what came of it. */
@Entity
public class ImportRun {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private @Nullable ClinicId runningFor;
    private String kind;
    private @Nullable String fileName;
    private @Nullable UUID uploadId;
    private boolean dryRun;
    private boolean createNames;
    private boolean replaceKnown;
    private boolean mapped;
    private String status;
    private Instant startedAt;
    private @Nullable Instant finishedAt;
    private String who;
    private long bytesTotal;
    private long bytesRead;
    private long lines;
    private long accepted;
    private long repeats;
    private long rejected;
    private @Nullable String header;
    private @Nullable String cellSeparator;
    private @Nullable String unknownColumns;
    private @Nullable String createdNames;
    private @Nullable String repeatedLines;
    private @Nullable String message;

    protected ImportRun() {}

    ImportRun(ImportTerms terms, Upload upload, boolean mapped, Instant at) {
        id = UUID.randomUUID();
        clinicId = terms.clinicId();
        runningFor = terms.clinicId();
        kind = terms.kind().code();
        fileName = upload.fileName();
        uploadId = upload.id();
        dryRun = terms.dryRun();
        createNames = terms.createNames();
        replaceKnown = terms.update();
        this.mapped = mapped;
        status = RunStatus.WAITING.code();
        startedAt = at;
        who = terms.who();
        bytesTotal = upload.bytes();
    }

    void begin() {
        status = RunStatus.RUNNING.code();
    }

    void readHeader(String text, char separator, List<String> unknown) {
        header = text;
        cellSeparator = String.valueOf(separator);
        unknownColumns = joined(unknown);
    }

    void advance(ImportResult taken, long read) {
        bytesRead = Math.min(read, bytesTotal);
        lines = taken.lines();
        accepted = taken.accepted();
        repeats = taken.repeats();
        rejected = taken.rejected();
        repeatedLines = joined(taken.repeatedLines());
        createdNames = joined(taken.createdNames());
    }

    void end(Instant at) {
        status = RunStatus.DONE.code();
        bytesRead = bytesTotal;
        finishedAt = at;
        runningFor = null;
    }

    void fail(String why, Instant at) {
        status = RunStatus.FAILED.code();
        message = why;
        finishedAt = at;
        runningFor = null;
    }

    private static @Nullable String joined(List<?> values) {
        return values.isEmpty() ? null : values.stream().map(String::valueOf).collect(Collectors.joining("\n"));
    }

    private static List<String> parted(@Nullable String joined) {
        return joined == null ? List.of() : joined.lines().toList();
    }

    public UUID id() {
        return id;
    }

    public ClinicId clinicId() {
        return clinicId;
    }

    /** The terms on which the run was started. */
    public ImportTerms terms() {
        return new ImportTerms(clinicId, who, ImportKind.of(kind).orElseThrow(), dryRun, createNames, replaceKnown);
    }

    /** The same terms, to go in for good. */
    public ImportTerms termsForGood(String asker) {
        return new ImportTerms(clinicId, asker, ImportKind.of(kind).orElseThrow(), false, createNames, replaceKnown);
    }

    public Optional<String> fileName() {
        return Optional.ofNullable(fileName);
    }

    public Optional<UUID> uploadId() {
        return Optional.ofNullable(uploadId);
    }

    /** Whether the file had its own headings, read by the clinic's mapping. */
    public boolean mapped() {
        return mapped;
    }

    public RunStatus status() {
        return RunStatus.of(status).orElseThrow();
    }

    /** Whether the run still waits or runs. */
    public boolean underWay() {
        return runningFor != null;
    }

    public Instant startedAt() {
        return startedAt;
    }

    public Optional<Instant> finishedAt() {
        return Optional.ofNullable(finishedAt);
    }

    /** The share of the file that has been read, 0 to 100. */
    public int percent() {
        return bytesTotal == 0 ? 0 : (int) (100 * bytesRead / bytesTotal);
    }

    public long lines() {
        return lines;
    }

    public long accepted() {
        return accepted;
    }

    public long repeats() {
        return repeats;
    }

    public long rejected() {
        return rejected;
    }

    /** The header row as it stands in the file. */
    public Optional<String> header() {
        return Optional.ofNullable(header);
    }

    public char separator() {
        return cellSeparator == null ? ',' : cellSeparator.charAt(0);
    }

    /** The columns that were kept out. */
    public List<String> unknownColumns() {
        return parted(unknownColumns);
    }

    /** The practitioners and rooms that the run has set up, or would. */
    public List<String> createdNames() {
        return parted(createdNames);
    }

    /** Where the first repeated lines stand. */
    public List<String> repeatedLines() {
        return parted(repeatedLines);
    }

    /** Why the run failed, a line for each reason; empty where it did not. */
    public List<String> messages() {
        return parted(message);
    }
}
