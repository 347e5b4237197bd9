package org.earslot.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.earslot.invented.InventedClinic;
import org.earslot.invented.VisitLogCsv;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EvaluateCommandTest {

    @TempDir
    private Path folder;

    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream problems = new ByteArrayOutputStream();

    private int run(String... arguments) {
        return new EvaluateCommand(print(out), print(problems)).run(List.of(arguments));
    }

    private static PrintStream print(ByteArrayOutputStream bytes) {
        return new PrintStream(bytes, true, StandardCharsets.UTF_8);
    }

    private static String said(ByteArrayOutputStream bytes) {
        return bytes.toString(StandardCharsets.UTF_8);
    }

    private Path log(int visits) throws IOException {
        Path file = folder.resolve("visits.csv");
        try (Writer writer = Files.newBufferedWriter(file)) {
            VisitLogCsv.write(InventedClinic.of(7, 2, visits).visits(), writer);
        }
        return file;
    }

    @Test
    void prints_the_scores_of_the_estimator_beside_the_simple_ways() throws IOException {
        assertThat(run("--visits", log(120).toString())).isZero();
        assertThat(said(problems)).isEmpty();
        assertThat(said(out))
                .contains("attended, timed visits", "each forecast from earlier days only")
                .contains("estimator", "fixed_slot", "by_method_and_ears", "log_linear")
                .contains("any method, both ears");
    }

    @Test
    void says_so_where_there_are_too_few_visits() throws IOException {
        assertThat(run("--visits", log(10).toString())).isZero();
        assertThat(said(out)).contains("Too few visits to judge by", "weak: few visits");
    }

    @Test
    void names_lines_it_leaves_out() throws IOException {
        Path file = log(60);
        List<String> lines = Files.readAllLines(file);
        lines.set(1, lines.get(1).replaceFirst("microsuction|irrigation|manual_removal", "vacuum"));
        Files.write(file, lines);
        assertThat(run("--visits", file.toString())).isZero();
        assertThat(said(problems)).startsWith("line 2 left out: method_planned");
    }

    @Test
    void refuses_what_it_cannot_read() throws IOException {
        assertThat(run("--visits", folder.resolve("nothing.csv").toString())).isEqualTo(1);
        Path other = Files.writeString(folder.resolve("other.csv"), "a,b\n1,2\n");
        assertThat(run("--visits", other.toString())).isEqualTo(1);
        assertThat(said(problems)).contains("cannot be read", "there is no such file", "visit_id");
    }

    @Test
    void says_how_to_ask_where_wrongly_asked() {
        for (String[] wrong : new String[][] {
            {},
            {"--visits"},
            {"--file", "x"},
            {"--visits", "x", "--overruns", "1"},
            {"--visits", "x", "--overruns", "?"}
        }) {
            assertThat(run(wrong)).isEqualTo(2);
        }
        assertThat(said(problems))
                .contains("usage: evaluate --visits FILE", "--overruns is 1; give a share between 0 and 1");
    }
}
