package org.earslot.testing;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import org.graalvm.polyglot.Context;
import org.graalvm.polyglot.Source;
import org.graalvm.polyglot.Value;
import org.graalvm.polyglot.io.IOAccess;

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

    @Override
    public void close() {
        context.close();
    }
}
