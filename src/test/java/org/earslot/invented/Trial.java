package org.earslot.invented;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.earslot.minutes.EmpiricalMinutes;
import org.jspecify.annotations.Nullable;

/**
 * A log to learn from, the visits that follow it, and the true distribution of each given what is told.
 *
 * @param log visits of the past
 * @param next the visits that follow
 * @param truths of the visits that follow, in their order, given all that is told and all that the log keeps
 * @param byReferral of the visits that follow given what the referral says alone, without the patient's earlier visits
 */
public record Trial(
        List<InventedVisit> log, List<InventedVisit> next, List<TrueTimes> truths, List<TrueTimes> byReferral) {

    /** Change whenever the generator changes: kept truths of another version are not read. */
    private static final int VERSION = 4;

    /** A half of a truth is thinned to the means of so many equal parts, which moves an expected score by less than 0.01 %. */
    private static final int PARTS = 320;

    /** The first {@code past} timed visits of a clinic, and the {@code count} that follow. */
    public static Trial of(InventedClinic clinic, int past, int count) {
        return of(clinic, past, count, null);
    }

    /** The same; truths are read from a folder if they are there, else worked out and kept there. */
    public static Trial of(InventedClinic clinic, int past, int count, @Nullable Path folder) {
        List<InventedVisit> timed = clinic.timedVisits();
        List<InventedVisit> log = timed.subList(0, past);
        List<InventedVisit> next = timed.subList(past, past + count);
        return new Trial(
                log,
                next,
                truths(clinic, log, next, folder, "truth-" + past),
                truths(clinic, List.of(), next, folder, "referral-" + past));
    }

    private static List<TrueTimes> truths(
            InventedClinic clinic,
            List<InventedVisit> log,
            List<InventedVisit> next,
            @Nullable Path folder,
            String name) {
        if (folder == null) {
            return truths(clinic, log, next);
        }
        Path file = folder.resolve(
                name + "-" + VERSION + "-" + clinic.seed() + "-" + clinic.truth().practitioners + "-" + next.size());
        try {
            if (!Files.exists(file)) {
                Files.createDirectories(folder);
                keep(file, truths(clinic, log, next));
            }
            return read(file, next.size());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The log as rows of the estimator's table. */
    public List<VisitRow> rows() {
        return InventedTable.rows(log);
    }

    /** What is asked about the visits that follow. */
    public List<VisitTerms> asked() {
        return next.stream().map(InventedTable::asked).toList();
    }

    /** Which of the visits that follow are of people in the log. */
    public List<Boolean> known() {
        Set<Integer> people = new HashSet<>();
        log.forEach(visit -> people.add(visit.told().patient()));
        return next.stream()
                .map(visit -> people.contains(visit.told().patient()))
                .toList();
    }

    private static List<TrueTimes> truths(InventedClinic clinic, List<InventedVisit> log, List<InventedVisit> next) {
        PerfectForecaster perfect = PerfectForecaster.of(clinic, log);
        return next.stream()
                .map(visit -> perfect.forecast(visit.told()))
                .map(times -> new TrueTimes(thinned(times.first()), thinned(times.second())))
                .toList();
    }

    private static EmpiricalMinutes thinned(EmpiricalMinutes truth) {
        double[] means = new double[PARTS];
        int each = truth.size() / PARTS;
        for (int part = 0; part < PARTS; part++) {
            for (int i = 0; i < each; i++) {
                means[part] += truth.time(part * each + i) / each;
            }
        }
        return EmpiricalMinutes.of(means);
    }

    private static void keep(Path file, List<TrueTimes> truths) throws IOException {
        Path unfinished = file.resolveSibling(file.getFileName() + ".part");
        try (DataOutputStream out = new DataOutputStream(new BufferedOutputStream(Files.newOutputStream(unfinished)))) {
            for (TrueTimes truth : truths) {
                for (EmpiricalMinutes half : List.of(truth.first(), truth.second())) {
                    for (int part = 0; part < PARTS; part++) {
                        out.writeFloat((float) half.time(part));
                    }
                }
            }
        }
        Files.move(unfinished, file);
    }

    private static List<TrueTimes> read(Path file, int count) throws IOException {
        List<TrueTimes> truths = new ArrayList<>();
        try (DataInputStream in = new DataInputStream(new BufferedInputStream(Files.newInputStream(file)))) {
            for (int visit = 0; visit < count; visit++) {
                truths.add(new TrueTimes(half(in), half(in)));
            }
        }
        return truths;
    }

    private static EmpiricalMinutes half(DataInputStream in) throws IOException {
        double[] times = new double[PARTS];
        for (int part = 0; part < PARTS; part++) {
            times[part] = in.readFloat();
        }
        return EmpiricalMinutes.of(times);
    }
}
