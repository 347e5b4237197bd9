package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.earslot.testing.ScriptEngine;
import org.graalvm.polyglot.TypeLiteral;
import org.graalvm.polyglot.Value;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The linter of the scripts: JSHint, and two rules that it lacks. Scripts are modules that declare nothing with var,
 * compare with three signs, use every name they declare, declare every name they use, and say at their head what they
 * are for.
 */
class ScriptsTest {

    private static final Path SCRIPTS = Path.of("src/main/resources/static/scripts");
    private static final String LINTER = "META-INF/resources/webjars/jshint/2.13.6/dist/jshint.js";
    private static final String LINT = """
            (script) => {
              const rules = {
                esversion: 11, module: true, browser: true, undef: true, unused: true, varstmt: true, eqeqeq: true,
                curly: true, freeze: true, futurehostile: true, latedef: 'nofunc', nonbsp: true, noarg: true, shadow: 'outer',
                maxdepth: 3, maxlen: 125, maxparams: 5, maxcomplexity: 10, maxstatements: 30, laxbreak: true
              };
              JSHINT(script, rules, { AbortController: false, EventSource: false, crypto: false });
              return JSHINT.errors.map((error) => `${error.line}: ${error.reason}`);
            }""";
    private static final TypeLiteral<List<String>> STRINGS = new TypeLiteral<>() {};
    private static final Pattern COMMENT = Pattern.compile("(?s:/\\*.*?\\*/)|(?m:^\\s*//[^\n]*$)");
    private static final Pattern VARIABLE = Pattern.compile("\\blet (\\w+)");
    private static final int WIDEST_FILE = 350;

    private static ScriptEngine engine;
    private static Value lint;

    @BeforeAll
    static void linter() throws IOException {
        engine = new ScriptEngine();
        try (InputStream in = ScriptsTest.class.getClassLoader().getResourceAsStream(LINTER)) {
            engine.run("linter", "var window = globalThis;\n" + new String(in.readAllBytes(), StandardCharsets.UTF_8));
        }
        lint = engine.run("lint", LINT);
    }

    @AfterAll
    static void close() {
        engine.close();
    }

    static List<Path> scripts() throws IOException {
        try (Stream<Path> files = Files.walk(SCRIPTS)) {
            List<Path> scripts = files.filter(Files::isRegularFile).sorted().toList();
            assertThat(scripts).hasSizeGreaterThan(5);
            return scripts;
        }
    }

    @ParameterizedTest
    @MethodSource("scripts")
    void a_script_has_no_fault(Path script) {
        String text = read(script);
        assertThat(faults(text)).as(script.toString()).isEmpty();
        assertThat(text).startsWith("/**");
        assertThat(text.lines().count()).isLessThan(WIDEST_FILE);
    }

    /** No script is left without the linter. */
    @Test
    void all_scripts_are_modules_in_one_folder() throws IOException {
        try (Stream<Path> files = Files.walk(SCRIPTS.getParent())) {
            assertThat(files.filter(file -> file.toString().endsWith(".js")))
                    .allMatch(file -> file.startsWith(SCRIPTS));
        }
        try (Stream<Path> files = Files.walk(Path.of("src/main/resources/templates"))) {
            assertThat(files.filter(Files::isRegularFile)
                            .flatMap(file -> read(file).lines())
                            .filter(line -> line.contains("@{/scripts/")))
                    .hasSizeGreaterThan(5)
                    .allMatch(line -> line.contains("type=\"module\""));
        }
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', quoteCharacter = '"', textBlock = """
                    var count = 1; export { count };          | `var` declarations are forbidden
                    export const same = (a, b) => a == b;     | Expected '==='
                    export function f() { const left = 1; }   | 'left' is defined but never used
                    export const g = () => elsewhere();       | 'elsewhere' is not defined
                    let fixed = 1; export { fixed };          | 'fixed' never changes
                    export const h = (a) => { if (a) return; }; | Expected '{'
                    export const i = ;                        | Expected an identifier
                    """)
    void a_fault_is_found(String script, String fault) {
        assertThat(faults(script)).anyMatch(found -> found.contains(fault));
    }

    private static List<String> faults(String script) {
        List<String> faults = new ArrayList<>(lint.execute(script).as(STRINGS));
        String code = COMMENT.matcher(script).replaceAll("");
        Matcher variable = VARIABLE.matcher(code);
        while (variable.find()) {
            String name = variable.group(1);
            Pattern change = Pattern.compile("(?<!let )\\b" + name + "\\s*([-+*/|&]?=(?![=>])|\\+\\+|--)|\\blet " + name
                    + ";|\\blet " + name + " of ");
            if (!change.matcher(code).find()) {
                faults.add("'" + name + "' never changes: const");
            }
        }
        return faults;
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
