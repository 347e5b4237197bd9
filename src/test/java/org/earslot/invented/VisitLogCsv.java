package org.earslot.invented;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.Word;
import org.earslot.exchange.VisitColumn;
import org.jspecify.annotations.Nullable;

/** Writes an invented clinic as a visit log, so that the whole application can be tried on it. */
public final class VisitLogCsv {

    private VisitLogCsv() {}

    /** Header and one line a visit, RFC 4180. */
    public static void write(List<InventedVisit> visits, Appendable out) throws IOException {
        CSVFormat format = CSVFormat.RFC4180
                .builder()
                .setHeader(VisitColumn.headings().toArray(String[]::new))
                .get();
        try (CSVPrinter printer = new CSVPrinter(out, format)) {
            for (InventedVisit visit : visits) {
                printer.printRecord(cells(visit));
            }
        }
    }

    private static List<String> cells(InventedVisit visit) {
        InventedVisit.Told told = visit.told();
        InventedVisit.Kept kept = visit.kept();
        List<String> cells = new ArrayList<>(List.of(
                String.format(Locale.ROOT, "V%06d", told.number()),
                String.format(Locale.ROOT, "K%06d", told.patient()),
                told.date().toString(),
                "P" + (told.practitioner() + 1),
                "R" + (told.practitioner() + 1),
                kept.attendance().code(),
                told.method().code(),
                told.ears().code(),
                told.firstVisit() ? "yes" : "no",
                told.hearingAid() ? "yes" : "no",
                told.cautions().stream().map(Caution::code).collect(Collectors.joining(";")),
                Integer.toString(told.softenerDays())));
        for (Ear ear : Ear.values()) {
            cells.addAll(findings(told.reported().get(ear)));
        }
        for (Ear ear : Ear.values()) {
            cells.add(kept.used().getOrDefault(ear, List.of()).stream()
                    .map(Method::code)
                    .collect(Collectors.joining(";")));
        }
        for (Ear ear : Ear.values()) {
            cells.addAll(findings(kept.found().get(ear)));
        }
        cells.add(clock(told.bookedStart()));
        cells.add(Integer.toString(told.slot()));
        cells.add(clock(kept.arrived()));
        cells.add(clock(kept.calledIn()));
        cells.add(clock(kept.finished()));
        cells.add(clock(kept.roomReady()));
        cells.add(
                kept.calledIn() == null && kept.roomReady() == null
                        ? ""
                        : kept.stopped().code());
        for (Ear ear : Ear.values()) {
            Outcome outcome = kept.outcomes().get(ear);
            cells.add(outcome == null ? "" : outcome.code());
        }
        cells.add("");
        return cells;
    }

    private static List<String> findings(@Nullable EarFindings findings) {
        EarFindings known = findings == null ? EarFindings.UNKNOWN : findings;
        return List.of(code(known.wax()), code(known.canal()), code(known.depth()), code(known.occlusion()));
    }

    private static String code(@Nullable Word word) {
        return word == null ? "" : word.code();
    }

    private static String clock(@Nullable Integer minutes) {
        return minutes == null ? "" : String.format(Locale.ROOT, "%02d:%02d", minutes / 60, minutes % 60);
    }
}
