package org.earslot.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;

class SeedFileTest {

    private static final LocalDate MONDAY = LocalDate.of(2026, 11, 30);

    @Test
    void tells_of_nothing_that_is_still_to_come_at_any_moment_of_the_week() throws IOException {
        SeedFile file = new SeedFile(
                "this-week.csv", SeedFile.weeksFrom(SeedClinic.read().anchorDate(), MONDAY));
        int last = 0;
        for (LocalDateTime now = MONDAY.atTime(8, 7);
                now.isBefore(MONDAY.plusDays(5).atStartOfDay()); ) {
            LocalDateTime moment = now;
            List<CSVRecord> lines = lines(file, moment);
            assertThat(lines).as("at %s", moment).allSatisfy(line -> {
                for (String time : List.of("booked_start", "arrived", "called_in", "finished", "room_ready")) {
                    if (!line.get(time).isEmpty()) {
                        assertThat(LocalDateTime.parse(line.get("date") + "T" + line.get(time)))
                                .isBefore(moment);
                    }
                }
            });
            assertThat(lines.size()).isGreaterThanOrEqualTo(last);
            last = lines.size();
            now = now.plusMinutes(13);
        }
        assertThat(last).isGreaterThan(50);
    }

    private static List<CSVRecord> lines(SeedFile file, LocalDateTime now) throws IOException {
        try (var records = CSVFormat.RFC4180
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get()
                .parse(new InputStreamReader(file.moved(line -> line.overBy(now)), StandardCharsets.UTF_8))) {
            return records.getRecords();
        }
    }
}
