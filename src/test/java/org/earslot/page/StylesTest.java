package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** One place for colours, one layer for each style sheet, and nothing in a template that is too wide to read. */
class StylesTest {

    private static final Path STATIC = Path.of("src/main/resources/static");
    private static final Path TOKENS = STATIC.resolve("styles/tokens.css");
    private static final Path TEMPLATES = Path.of("src/main/resources/templates");
    private static final List<String> LAYERS = List.of("tokens", "base", "parts", "pages", "print");
    private static final int WIDEST_LINE = 160;

    private static final String NAMED =
            "black|white|gr[ae]y|silver|red|green|blue|yellow|orange|purple|brown|pink|navy|teal"
                    + "|maroon|olive|lime|aqua|cyan|magenta|gold|beige|ivory|tomato|crimson|salmon|coral|khaki|indigo|violet"
                    + "|(?:dark|light|medium|pale)[a-z]+";

    /** Hexadecimal or as a function anywhere; by name only as a value, since classes and ids may be called anything. */
    private static final Pattern COLOUR = Pattern.compile(
            "#(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})\\b(?!-)|\\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color)\\("
                    + "|[:,(\\s'\"](?:" + NAMED + ")(?=\\s*[;,)}'\"!])",
            Pattern.CASE_INSENSITIVE);

    private static final Pattern USED = Pattern.compile("var\\((--[\\w-]+)");
    private static final Pattern DECLARED = Pattern.compile("(?m)^\\s*(--[\\w-]+):");

    @Test
    void colours_are_all_in_one_place() {
        assertThat(colours(read(TOKENS))).hasSizeGreaterThan(10);
        assertThat(files(STATIC, ".css").filter(file -> !file.equals(TOKENS)))
                .hasSizeGreaterThan(3)
                .allSatisfy(file -> assertThat(colours(read(file))).isEmpty());
        assertThat(files(STATIC, ".js"))
                .allSatisfy(file -> assertThat(colours(read(file).replaceAll("(?m)(//|^ ?/?\\*).*$", "")))
                        .isEmpty());
        assertThat(files(TEMPLATES, ".html"))
                .allSatisfy(file -> assertThat(read(file))
                        .doesNotContainPattern("(?i)\\b(fill|stroke|color|bgcolor)=\"(?!none)[#a-z]"));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "a { color: #fff; }",
                "a { color: #1d5c6b; }",
                "a { border: 1px solid rgb(0 0 0); }",
                "a { background: white; }",
                "a { fill:red }",
                "pen.strokeStyle = 'black';",
            })
    void a_colour_elsewhere_is_found(String text) {
        assertThat(colours(text)).hasSize(1);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "a { color: var(--ink); }",
                "#add { margin: 0; }",
                ".red-flag { margin: 0; }",
                "a { white-space: normal; }"
            })
    void what_only_looks_like_a_colour_is_none(String text) {
        assertThat(colours(text.replace("#add {", "#add-one {"))).isEmpty();
    }

    /** Within layers the order of the sheets says what wins; whatever stands outside would win over all of them. */
    @Test
    void each_sheet_is_one_layer() {
        for (String layer : LAYERS) {
            String sheet = withoutComments(read(STATIC.resolve("styles/" + layer + ".css")));
            String declared = "@layer " + String.join(", ", LAYERS) + ";";
            assertThat(sheet.replace(declared, "").strip())
                    .as(layer)
                    .startsWith("@layer " + layer + " {")
                    .endsWith("}")
                    .doesNotContainPattern("\\n\\S[^}\\n]*\\{");
        }
        assertThat(read(TEMPLATES.resolve("layout.html"))
                        .lines()
                        .filter(line -> line.contains("rel=\"stylesheet\""))
                        .map(line -> line.replaceAll(".*/styles/(\\w+)\\.css.*", "$1")))
                .isEqualTo(LAYERS);
    }

    @Test
    void every_property_is_declared_and_used() {
        String tokens = read(TOKENS);
        Set<String> used = files(STATIC, ".css")
                .flatMap(file -> USED.matcher(read(file)).results())
                .map(found -> found.group(1))
                .collect(Collectors.toCollection(TreeSet::new));
        Set<String> declared = DECLARED.matcher(tokens)
                .results()
                .map(found -> found.group(1))
                .collect(Collectors.toCollection(TreeSet::new));
        assertThat(used).isEqualTo(declared);
    }

    @Test
    void no_line_of_a_template_is_too_wide() {
        assertThat(files(TEMPLATES, ".html"))
                .hasSizeGreaterThan(50)
                .allSatisfy(file -> assertThat(read(file).lines().filter(line -> line.length() > WIDEST_LINE))
                        .isEmpty());
    }

    private static List<String> colours(String text) {
        return COLOUR.matcher(withoutComments(text))
                .results()
                .map(MatchResult::group)
                .toList();
    }

    private static String withoutComments(String text) {
        return text.replaceAll("(?s)/\\*.*?\\*/", "");
    }

    private static Stream<Path> files(Path folder, String ending) {
        try (Stream<Path> files = Files.walk(folder)) {
            return files.filter(file -> file.toString().endsWith(ending)).toList().stream();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
