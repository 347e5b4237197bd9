package org.earslot.exchange;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.earslot.page.CsvWriter;

/** Visit logs as the tests of this room write them. */
public final class VisitLines {

    private VisitLines() {}

    /** A line that can go in, both ears by suction, with some cells set to other values: name, value, name, value. */
    public static List<String> line(String visitId, String... changes) {
        List<String> cells = new ArrayList<>(
                VisitColumn.headings().stream().map(column -> "").toList());
        set(cells, "visit_id", visitId);
        set(cells, "patient_ref", "K000001");
        set(cells, "date", "2026-03-02");
        set(cells, "practitioner", "P1");
        set(cells, "room", "R1");
        set(cells, "attendance", "attended");
        set(cells, "method_planned", "microsuction");
        set(cells, "ears", "both");
        set(cells, "booked_start", "09:00");
        set(cells, "slot_minutes", "20");
        set(cells, "arrived", "08:55");
        set(cells, "called_in", "09:02");
        set(cells, "finished", "09:20");
        set(cells, "room_ready", "09:23");
        for (int i = 0; i < changes.length; i += 2) {
            set(cells, changes[i], changes[i + 1]);
        }
        return cells;
    }

    /** A whole log with these lines. */
    @SafeVarargs
    public static String log(List<String>... lines) {
        try {
            StringBuilder log = new StringBuilder();
            CsvWriter writer = new CsvWriter(log);
            writer.write(VisitColumn.headings());
            for (List<String> line : lines) {
                writer.write(line);
            }
            return log.toString();
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    private static void set(List<String> cells, String column, String value) {
        int place = VisitColumn.headings().indexOf(column);
        if (place < 0) {
            throw new IllegalArgumentException(column);
        }
        cells.set(place, value);
    }
}
