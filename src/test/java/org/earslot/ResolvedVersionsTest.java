package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * What the program is made of is not older than the version in which published advisories were answered. The list stands
 * in {@code advisories.tsv}, so that the check needs no network; it says when it was read.
 */
class ResolvedVersionsTest {

    /** One line of the list. */
    private record Advisory(String id, String group, String artifact, String least) {

        static Advisory of(String line) {
            String[] cells = line.split("\t");
            String[] coordinates = cells[1].split(":");
            return new Advisory(cells[0], coordinates[0], coordinates[1], cells[2]);
        }

        /** The version on the class path, whose folders are those of a Maven repository. */
        Optional<String> resolved() {
            return Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
                    .map(Path::of)
                    .filter(jar -> jar.toString()
                            .replace(File.separatorChar, '/')
                            .contains("/" + group.replace('.', '/') + "/" + artifact + "/"))
                    .map(jar -> String.valueOf(jar.getParent().getFileName()))
                    .findFirst();
        }
    }

    @Test
    void no_part_is_older_than_the_fix_of_a_published_advisory() throws IOException {
        List<String> problems = new ArrayList<>();
        List<Advisory> advisories = advisories();
        assertThat(advisories).hasSizeGreaterThan(10);
        for (Advisory advisory : advisories) {
            Optional<String> resolved = advisory.resolved();
            if (resolved.isEmpty()) {
                problems.add(advisory + " names what the program is not made of");
            } else if (isBefore(resolved.get(), advisory.least())) {
                problems.add(advisory + " but " + resolved.get() + " is used");
            }
        }
        assertThat(problems).isEmpty();
    }

    @Test
    void versions_are_compared_number_by_number() {
        assertThat(isBefore("11.0.22", "11.0.23")).isTrue();
        assertThat(isBefore("11.0.9", "11.0.23")).isTrue();
        assertThat(isBefore("2.21.4", "2.21.5")).isTrue();
        assertThat(isBefore("2.21.5", "2.21.5")).isFalse();
        assertThat(isBefore("2.22", "2.21.5")).isFalse();
        assertThat(isBefore("3.1.7.RELEASE", "3.1.8")).isTrue();
    }

    private static boolean isBefore(String version, String least) {
        return Arrays.compare(numbers(version), numbers(least)) < 0;
    }

    private static int[] numbers(String version) {
        return Arrays.stream(version.split("[.-]"))
                .filter(part -> part.matches("\\d+"))
                .mapToInt(Integer::parseInt)
                .toArray();
    }

    private static List<Advisory> advisories() throws IOException {
        try (InputStream in = ResolvedVersionsTest.class.getResourceAsStream("/advisories.tsv")) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(line -> !line.startsWith("#") && !line.isBlank())
                    .map(Advisory::of)
                    .toList();
        }
    }
}
