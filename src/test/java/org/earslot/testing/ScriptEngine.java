package org.earslot.testing;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.List;
import org.graalvm.polyglot.Context;
import org.graalvm.polyglot.Source;
import org.graalvm.polyglot.Value;
import org.graalvm.polyglot.io.IOAccess;
import org.junit.jupiter.api.DynamicTest;

/** Runs scripts as a browser would, without a page. */
public final class ScriptEngine implements AutoCloseable {

    private final Context context = Context.newBuilder("js")
            .allowIO(IOAccess.ALL)
            .allowExperimentalOptions(true)
            .option("engine.WarnInterpreterOnly", "false")
            .option("js.esm-eval-returns-exports", "true")
            .build();

    /** Runs a script; what it declares stays for the next one. */
    public Value run(String name, String script) {
        return context.eval(Source.newBuilder("js", script, name).buildLiteral());
    }

    /** What a module exports. */
    public Value load(Path module) {
        try {
            return context.eval(Source.newBuilder("js", module.toFile())
                    .mimeType("application/javascript+module")
                    .build());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Each function that a module of tests exports, as a test of its own. */
    public List<DynamicTest> tests(Path module) {
        Value tests = load(module);
        return tests.getMemberKeys().stream()
                .map(name -> DynamicTest.dynamicTest(name.replace('_', ' '), () -> passes(tests.getMember(name))))
                .toList();
    }

    /** A test answers an estimate; what it waits for has happened once the call returns. */
    private void passes(Value test) {
        Value outcome = run("run", """
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

    @Override
    public void close() {
        context.close();
    }
}
