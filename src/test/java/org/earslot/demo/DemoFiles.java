package org.earslot.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.LocalTime;
import java.util.List;
import java.util.stream.Stream;
import org.earslot.demo.ClinicFile.Session;
import org.earslot.demo.DemoTable.Row;

/** The demo clinic as its files say. */
record DemoFiles(ClinicFile clinic, DemoTable visitLog, DemoTable thisWeek, DemoTable bookings) {

    static final Path FOLDER = Path.of("seed-demo");

    static DemoFiles read() {
        try {
            return new DemoFiles(
                    ClinicFile.read(FOLDER),
                    DemoTable.read(FOLDER.resolve("visit-log.csv")),
                    DemoTable.read(FOLDER.resolve("this-week.csv")),
                    DemoTable.read(FOLDER.resolve("bookings.csv")));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    List<Row> everyVisit() {
        return Stream.concat(visitLog.rows().stream(), thisWeek.rows().stream()).toList();
    }

    /** What became of a booking of the anchor week. */
    Row visitOf(Row booking) {
        return thisWeek.rows().stream()
                .filter(row -> row.text("visit_id").equals(booking.text("booking_id")))
                .findFirst()
                .orElseThrow();
    }

    /** Whether the booking lies in the session, clear of its break. */
    static boolean holds(Session session, Row row) {
        LocalTime start = LocalTime.parse(row.text("start"));
        LocalTime end = start.plusMinutes(row.number("slot_minutes"));
        return session.weekday() == row.date().getDayOfWeek()
                && session.practitioner().equals(row.text("practitioner"))
                && session.room().equals(row.text("room"))
                && session.stretches().stream()
                        .anyMatch(span -> !start.isBefore(span.from()) && !end.isAfter(span.to()));
    }
}
