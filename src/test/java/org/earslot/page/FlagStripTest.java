package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.stream.Stream;
import org.earslot.testing.ScriptEngine;
import org.graalvm.polyglot.Value;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/** The open red flags at the head of a page that stays open: each function that the test module exports is a test of its own. */
class FlagStripTest {

    private static final Path TESTS = Path.of("src/test/js/flag-strip-test.js");

    private static ScriptEngine engine;

    @BeforeAll
    static void open() {
        engine = new ScriptEngine();
    }

    @AfterAll
    static void close() {
        engine.close();
    }

    @TestFactory
    Stream<DynamicTest> strip() {
        Value tests = engine.load(TESTS);
        assertThat(tests.getMemberKeys()).hasSizeGreaterThan(4);
        return tests.getMemberKeys().stream()
                .map(name -> DynamicTest.dynamicTest(name.replace('_', ' '), () -> runs(tests.getMember(name))));
    }

    /** A test answers a promise; what it waits for has happened once the call returns. */
    private static void runs(Value test) {
        Value outcome = engine.run("run", """
                (test) => {
                  const outcome = { ended: false, failure: null };
                  test().then(() => { outcome.ended = true; }, (error) => { outcome.failure = String(error.stack ?? error); });
                  return outcome;
                }""").execute(test);
        assertThat(outcome.getMember("failure").asString()).isNull();
        assertThat(outcome.getMember("ended").asBoolean())
                .as("the test came to its end")
                .isTrue();
    }
}
