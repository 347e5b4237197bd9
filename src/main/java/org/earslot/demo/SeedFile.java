package org.earslot.demo;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.time.temporal.TemporalAdjusters;
import java.util.List;
import java.util.function.Predicate;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;

/** One of the demo's CSV files, moved by whole weeks so that its anchor week is the current one. */
record SeedFile(String name, long weeks) {

    private static final CSVFormat READ =
            CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();

    private static final List<String> TIMES = List.of("booked_start", "arrived", "called_in", "finished", "room_ready");

    /** The weeks from the anchor's Monday to that of today; at a weekend, to the coming Monday. */
    static long weeksFrom(LocalDate anchor, LocalDate today) {
        return ChronoUnit.WEEKS.between(monday(anchor), monday(today.plusDays(2)));
    }

    private static LocalDate monday(LocalDate date) {
        return date.with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY));
    }

    /** A line with its moved date. */
    record Line(LocalDate date, CSVRecord cells) {

        /** Whether the visit it tells of was over by then: everything that happened, and its booked start, are past. */
        boolean overBy(LocalDateTime now) {
            if (!date.equals(now.toLocalDate())) {
                return date.isBefore(now.toLocalDate());
            }
            List<LocalTime> times = TIMES.stream()
                    .map(cells::get)
                    .filter(time -> !time.isEmpty())
                    .map(LocalTime::parse)
                    .toList();
            return !times.isEmpty() && times.stream().allMatch(time -> time.isBefore(now.toLocalTime()));
        }
    }

    /** The moved lines that are wanted, as CSV again. */
    InputStream moved(Predicate<Line> wanted) throws IOException {
        StringWriter text = new StringWriter();
        try (InputStream in = SeedFile.class.getResourceAsStream("/seed-demo/" + name);
                var records = READ.parse(new InputStreamReader(in, StandardCharsets.UTF_8));
                CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
            List<String> header = records.getHeaderNames();
            int dateColumn = header.indexOf("date");
            printer.printRecord(header);
            for (CSVRecord line : records) {
                LocalDate date = LocalDate.parse(line.get(dateColumn)).plusWeeks(weeks);
                if (wanted.test(new Line(date, line))) {
                    List<String> cells = line.toList();
                    cells.set(dateColumn, date.toString());
                    printer.printRecord(cells);
                }
            }
        }
        return new ByteArrayInputStream(text.toString().getBytes(StandardCharsets.UTF_8));
    }
}
