package org.earslot.visit.imports;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.earslot.visit.csv.Cells;
import org.earslot.visit.csv.Fault;

/** What became of the lines of a run so far. */
public final class Taken {

    /** Of so many repeated lines the numbers are kept; all are counted. */
    static final int REPEATS_NAMED = 50;

    private final String idColumn;
    private long lines;
    private long accepted;
    private long repeats;
    private long rejected;
    private final List<Long> repeatedLines = new ArrayList<>();
    private final List<String> createdNames = new ArrayList<>();
    private final Set<String> patientRefs = new HashSet<>();
    private List<Rejection> rejections = new ArrayList<>();

    Taken(String idColumn) {
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

    void reject(long line, String rowRef, String raw, List<Fault> faults) {
        lines++;
        rejected++;
        faults.forEach(fault -> rejections.add(new Rejection(line, rowRef, fault, raw)));
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
