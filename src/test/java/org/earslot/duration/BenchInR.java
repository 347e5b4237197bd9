package org.earslot.duration;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import org.earslot.duration.table.VisitRow;
import org.jspecify.annotations.Nullable;

/** R's survreg on a table, timed by R itself; the reference that the fit's time is set beside. */
final class BenchInR {

    private BenchInR() {}

    /** The better of two runs, reading not counted; null, with a notice, where R or its package survival is missing. */
    static @Nullable Double seconds(List<VisitRow> rows) throws IOException, InterruptedException {
        Path folder = Files.createTempDirectory("bench-in-r");
        Path table = folder.resolve("table.csv");
        Path script = folder.resolve("survreg.R");
        try {
            BenchTable.write(rows, table);
            try (InputStream in = Objects.requireNonNull(BenchInR.class.getResourceAsStream("/bench/survreg.R"))) {
                Files.copy(in, script);
            }
            Process process = new ProcessBuilder("Rscript", "--vanilla", script.toString(), table.toString())
                    .redirectErrorStream(true)
                    .start();
            String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
            if (process.waitFor() != 0) {
                System.out.println("R is there, but its run failed, so there is no ratio: " + said);
                return null;
            }
            System.out.print(said);
            return Double.valueOf(
                    said.substring(said.lastIndexOf("seconds ") + 8).strip());
        } catch (IOException e) {
            System.out.println("Rscript is not here, so there is no ratio: " + e.getMessage());
            return null;
        } finally {
            Files.deleteIfExists(table);
            Files.deleteIfExists(script);
            Files.deleteIfExists(folder);
        }
    }
}
