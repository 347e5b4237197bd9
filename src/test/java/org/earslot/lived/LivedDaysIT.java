package org.earslot.lived;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Map;
import org.earslot.testing.PostgresServer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The packaged program lived with: one working day as part of the gate, a week with {@code -Dlived.days=5}. It begins on
 * Monday 30 November 2026, so that the first night is that of a month's change.
 */
class LivedDaysIT {

    private static final Logger LOG = LoggerFactory.getLogger(LivedDaysIT.class);
    private static final LocalDate MONDAY = LocalDate.of(2026, 11, 30);
    private static final int DAYS = Integer.getInteger("lived.days", 1);

    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    private Path folder;

    @Test
    void daysOnH2() throws IOException {
        Path data = Files.createDirectories(folder.resolve("data"));
        lives(Map.of("EARSLOT_DB_URL", "jdbc:h2:file:" + data.resolve("clinic") + ";WRITE_DELAY=0;LOCK_TIMEOUT=10000"));
    }

    @Test
    void daysOnPostgres() throws IOException {
        lives(Map.of(
                "EARSLOT_DB_URL", PostgresServer.newDatabase(),
                "EARSLOT_DB_USER", PostgresServer.user(),
                "EARSLOT_DB_PASSWORD", PostgresServer.password()));
    }

    private void lives(Map<String, String> database) throws IOException {
        Instant start = Instant.parse(MONDAY + "T07:00:00Z");
        try (RunningProgram program = RunningProgram.start(folder, database, start)) {
            Clinic clinic = new Clinic(program.base(), program.clock());
            Journal journal = new Journal();
            for (int day = 0; day < DAYS; day++) {
                LocalDate date = MONDAY.plusDays(day);
                WorkingDay lived = new WorkingDay(clinic, journal, date, date.toEpochDay());
                int steps = lived.live();
                LOG.info("{} lived in {} steps", date, steps);
                if (date.getDayOfWeek() == DayOfWeek.TUESDAY || date.getDayOfWeek() == DayOfWeek.THURSDAY) {
                    lived.close();
                }
                lived.sleep();
            }
            assertThat(program.errors()).isEmpty();
            assertThat(program.isAlive()).isTrue();
        }
    }
}
