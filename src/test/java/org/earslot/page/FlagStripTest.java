package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import org.earslot.testing.ScriptEngine;
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
    List<DynamicTest> strip() {
        List<DynamicTest> tests = engine.tests(TESTS);
        assertThat(tests).hasSizeGreaterThan(4);
        return tests;
    }
}
