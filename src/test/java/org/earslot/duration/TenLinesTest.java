package org.earslot.duration;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.tools.ToolProvider;
import org.earslot.duration.fit.OncePlusParts;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Runs the example in the class comment of {@link OncePlusParts}, exactly as it stands there. */
class TenLinesTest {

    private static final Path SOURCE = Path.of("src/main/java/org/earslot/duration/fit/OncePlusParts.java");
    private static final Pattern EXAMPLE = Pattern.compile("<pre>\\{@code\\R(.*?)\\R \\* }</pre>", Pattern.DOTALL);

    @TempDir
    private Path folder;

    @Test
    void theClassCommentShowsTheUseInTenLinesThatRun() throws Exception {
        List<String> lines = example();
        assertThat(lines).hasSizeBetween(5, 10);
        assertThat(String.join("\n", lines)).contains("OncePlusParts.with(", ".fit(", ".predict(", ".took(");

        double fourInFive = run(lines);

        assertThat(fourInFive).isBetween(8.0, 80.0);
    }

    private static List<String> example() throws IOException {
        Matcher found = EXAMPLE.matcher(Files.readString(SOURCE));
        assertThat(found.find()).as("an example in the class comment").isTrue();
        return found.group(1)
                .lines()
                .map(line -> line.replaceFirst("^ \\* ?", ""))
                .toList();
    }

    /** Compiled outside the package, so that what it uses is public. */
    private double run(List<String> lines) throws Exception {
        Path file = folder.resolve("TenLines.java");
        Files.writeString(file, """
                import java.util.*;
                import org.earslot.duration.*;
                import org.earslot.duration.fit.OncePlusParts;
                import org.earslot.duration.table.*;
                public class TenLines {
                    public static double run() {
                        %s
                        return fourInFive;
                    }
                }
                """.formatted(String.join("\n", lines)));
        int problems = ToolProvider.getSystemJavaCompiler()
                .run(
                        null,
                        null,
                        null,
                        "--release",
                        "17",
                        "-proc:none",
                        "-cp",
                        System.getProperty("java.class.path"),
                        "-d",
                        folder.toString(),
                        file.toString());
        assertThat(problems).as("the example compiles").isZero();
        try (URLClassLoader loader =
                new URLClassLoader(new URL[] {folder.toUri().toURL()}, OncePlusParts.class.getClassLoader())) {
            return (double) loader.loadClass("TenLines").getMethod("run").invoke(null);
        }
    }
}
