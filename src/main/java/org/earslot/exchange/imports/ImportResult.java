package org.earslot.exchange.imports;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.csv.FieldError;

/** What became of the lines of a run so far. */
public final class ImportResult {

    /** Of so many repeated lines the numbers are kept; all are counted. */
    static final int REPEATS_NAMED = 50;

    /** The problems of at most this many rejected lines are stored; all lines are counted. */
    public static final int REJECTED_LISTED = 1_000;

    /** As many lines that cannot go in say that it is the wrong file, or one column of it is: reading stops. */
    public static final int REJECTED_AT_MOST = 10_000;

    private static final int FAULTS_LISTED = 5_000;

    /** A rejected line is stored up to this length; a line of a visit log has some 200 characters. */
    private static final int LONGEST_RAW = 2_000;

    private final String idColumn;
    private long lines;
    private long accepted;
    private long repeats;
    private long rejected;
    private int linesListed;
    private int faultsListed;
    private final List<Long> repeatedLines = new ArrayList<>();
    private final List<String> createdNames = new ArrayList<>();
    private final Set<String> patientRefs = new HashSet<>();
    private List<Rejection> rejections = new ArrayList<>();

    ImportResult(String idColumn) {
        this.idColumn = idColumn;
    }

    /** A line went in; it is about the patient of that local number. */
    public void accept(String patientRef) {
        lines++;
        accepted++;
        patientRefs.add(patientRef);
    }

    /** A line was there already, the same in every value. */
    public void repeat(Cells cells) {
        lines++;
        repeats++;
        if (repeatedLines.size() < REPEATS_NAMED) {
            repeatedLines.add(cells.line());
        }
    }

    /** A line stays out for the faults noted at its cells. */
    public void reject(Cells cells) {
        reject(cells.line(), cells.cell(idColumn), cells.raw(), cells.faults());
    }

    void reject(long line, String rowRef, String raw, List<FieldError> faults) {
        lines++;
        rejected++;
        if (linesListed < REJECTED_LISTED && faultsListed + faults.size() <= FAULTS_LISTED) {
            list(line, rowRef, raw, faults);
        }
        if (rejected > REJECTED_AT_MOST) {
            throw new TooManyRejected(line);
        }
    }

    /** The text of the line is stored once, with its first fault. */
    private void list(long line, String rowRef, String raw, List<FieldError> faults) {
        linesListed++;
        faultsListed += faults.size();
        String kept = raw.length() > LONGEST_RAW ? raw.substring(0, LONGEST_RAW) + "…" : raw;
        for (FieldError fault : faults) {
            rejections.add(new Rejection(line, rowRef, fault, kept));
            kept = "";
        }
    }

    /** A practitioner or a room was set up by the run. */
    public void create(String name) {
        createdNames.add(name);
    }

    long lines() {
        return lines;
    }

    long accepted() {
        return accepted;
    }

    long repeats() {
        return repeats;
    }

    long rejected() {
        return rejected;
    }

    List<Long> repeatedLines() {
        return repeatedLines;
    }

    /** The local numbers of the lines that went in. */
    Set<String> patientRefs() {
        return patientRefs;
    }

    List<String> createdNames() {
        return createdNames;
    }

    /** The rejections since the last call. */
    List<Rejection> newRejections() {
        List<Rejection> since = rejections;
        rejections = new ArrayList<>();
        return since;
    }
}
