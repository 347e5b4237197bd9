package org.earslot.testing;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** A Chromium of this machine, to render pages with. */
public final class Browser {

    private static final List<String> NAMES = List.of("chromium", "chromium-browser", "google-chrome", "chrome");

    private final Path program;

    private Browser(Path program) {
        this.program = program;
    }

    /** The first found on the path. */
    public static Optional<Browser> find() {
        String path = Optional.ofNullable(System.getenv("PATH")).orElse("");
        return Arrays.stream(path.split(File.pathSeparator))
                .flatMap(folder -> NAMES.stream().map(name -> Path.of(folder, name)))
                .filter(Files::isExecutable)
                .findFirst()
                .map(Browser::new);
    }

    /** Prints a page, as it is given, to a PDF beside it. */
    public Path print(Path page) {
        Path pdf = page.resolveSibling("printed.pdf");
        run(page, "--no-pdf-header-footer", "--print-to-pdf=" + pdf);
        return pdf;
    }

    /** The page after its scripts have run. */
    public String content(Path page) {
        try {
            return Files.readString(run(page, "--dump-dom"));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Opens the page, and returns the file of what the browser said. */
    private Path run(Path page, String... wanted) {
        Path said = page.resolveSibling("browser.out");
        try {
            Process process = new ProcessBuilder(Stream.of(
                                    Stream.of(
                                            program.toString(),
                                            "--headless",
                                            "--no-sandbox",
                                            "--disable-gpu",
                                            "--disable-quic",
                                            "--no-first-run",
                                            "--disable-background-networking",
                                            "--disable-component-update",
                                            "--disable-sync",
                                            "--disable-dev-shm-usage",
                                            "--user-data-dir=" + page.resolveSibling("profile")),
                                    Stream.of(wanted),
                                    Stream.of(page.toUri().toString()))
                            .flatMap(each -> each)
                            .toList())
                    .redirectError(page.resolveSibling("browser.log").toFile())
                    .redirectOutput(said.toFile())
                    .start();
            if (!process.waitFor(3, TimeUnit.MINUTES)) {
                process.destroyForcibly();
                throw new IllegalStateException("the browser did not end within 3 minutes");
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while the browser was open", e);
        }
        return said;
    }
}
