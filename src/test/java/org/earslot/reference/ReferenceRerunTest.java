package org.earslot.reference;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.abort;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Runs the scripts again that made the stored numbers, and compares. Part of {@code mvn verify -Preference}; needs Rscript
 * with the packages survival, lme4 and quantreg (on Debian r-base-core, r-cran-survival, r-cran-lme4, r-cran-quantreg).
 */
@Tag("reference")
class ReferenceRerunTest {

    private static final long MOST_MINUTES = 5;

    @TempDir
    static Path folder;

    @BeforeAll
    static void takesAlongTheScripts() throws IOException {
        if (Arrays.stream(Objects.requireNonNullElse(System.getenv("PATH"), "").split(java.io.File.pathSeparator))
                .noneMatch(each -> Files.isExecutable(Path.of(each, "Rscript")))) {
            String notice = "Rscript is not on the path: the stored numbers were NOT compared with R";
            System.err.println(notice);
            abort(notice);
        }
        try (Stream<Path> files = Files.list(stored())) {
            for (Path file : files.toList()) {
                Files.copy(file, folder.resolve(file.getFileName().toString()));
            }
        }
    }

    static List<String> scripts() throws IOException {
        try (Stream<Path> files = Files.list(stored())) {
            return files.map(file -> file.getFileName().toString())
                    .filter(name -> name.endsWith(".txt"))
                    .map(name -> name.substring(0, name.length() - 4))
                    .sorted()
                    .toList();
        }
    }

    @ParameterizedTest
    @MethodSource("scripts")
    void scriptGivesTheStoredNumbersAgain(String script) throws IOException, InterruptedException {
        Map<String, Reference.Line> stored = Reference.of(script).lines();
        Map<String, double[]> rerun = rerun(script);
        assertThat(rerun.keySet()).containsExactlyInAnyOrderElementsOf(stored.keySet());
        stored.forEach((key, line) -> {
            double[] now = rerun.get(key);
            assertThat(now).as(key).hasSameSizeAs(line.values());
            for (int i = 0; i < now.length; i++) {
                assertThat(now[i])
                        .as("%s, value %d", key, i + 1)
                        .isCloseTo(line.values()[i], within(line.within() * Math.abs(line.values()[i])));
            }
        });
    }

    @Test
    void scriptMakesTheStoredTableAgain() throws IOException, InterruptedException {
        Path table = folder.resolve("additive-mean.csv");
        byte[] stored = Files.readAllBytes(table);
        Files.delete(table);
        run("additive-mean-table");
        assertThat(table).hasBinaryContent(stored);
    }

    @Test
    void everyStoredFileHasItsScript() throws IOException {
        assertThat(scripts())
                .isNotEmpty()
                .allSatisfy(script -> assertThat(folder.resolve(script + ".R")).exists());
    }

    private static Map<String, double[]> rerun(String script) throws IOException, InterruptedException {
        Map<String, double[]> values = new LinkedHashMap<>();
        run(script).lines().map(line -> line.strip().split(" ")).forEach(cells -> {
            double[] line = Arrays.stream(cells, 1, cells.length)
                    .mapToDouble(Double::parseDouble)
                    .toArray();
            values.put(cells[0], line);
        });
        return values;
    }

    private static String run(String script) throws IOException, InterruptedException {
        Path out = folder.resolve(script + ".out");
        Path problems = folder.resolve(script + ".err");
        Process process = new ProcessBuilder("Rscript", "--vanilla", script + ".R")
                .directory(folder.toFile())
                .redirectOutput(out.toFile())
                .redirectError(problems.toFile())
                .start();
        if (!process.waitFor(MOST_MINUTES, TimeUnit.MINUTES)) {
            process.destroyForcibly();
        }
        assertThat(process.waitFor())
                .as("%s.R ends well; it said: %s", script, Files.readString(problems))
                .isZero();
        return Files.readString(out, StandardCharsets.UTF_8);
    }

    private static Path stored() {
        try {
            return Path.of(Objects.requireNonNull(ReferenceRerunTest.class.getResource("/reference"))
                    .toURI());
        } catch (URISyntaxException e) {
            throw new IllegalStateException(e);
        }
    }
}
