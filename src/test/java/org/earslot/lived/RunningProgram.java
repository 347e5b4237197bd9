package org.earslot.lived;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.earslot.lived.clock.MovedClock;

/** The packaged program as a process of its own, in demo mode on an empty database, with a clock that the test moves. */
final class RunningProgram implements AutoCloseable {

    private static final Duration LONGEST_START = Duration.ofMinutes(6);

    /** Background work looks for something to do this often, so that a moved clock is noticed at once. */
    private static final List<String> SOON = List.of("--earslot.dayclosing.every=PT2S", "--earslot.fits.every=PT2S");

    private final Process process;
    private final Path log;
    private final URI base;
    private final MovedClock clock;

    private RunningProgram(Process process, Path log, URI base, MovedClock clock) {
        this.process = process;
        this.log = log;
        this.base = base;
        this.clock = clock;
    }

    /**
     * Starts it and waits until it is ready.
     *
     * @param folder an empty folder for its log and clock
     * @param database the settings of its database, as environment variables
     * @param now the time by which it starts
     */
    static RunningProgram start(Path folder, Map<String, String> database, Instant now) throws IOException {
        MovedClock clock = MovedClock.on(folder.resolve("clock"));
        clock.moveTo(now);
        int port = freePort();
        Path log = folder.resolve("log");
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx1g",
                "-Dloader.main=org.earslot.Earslot",
                "-Dloader.path=" + clockAlone(folder),
                "-cp",
                packaged().toString(),
                "org.springframework.boot.loader.launch.PropertiesLauncher",
                "--spring.profiles.active=demo",
                "--server.port=" + port,
                "--" + MovedClock.FILE + "=" + folder.resolve("clock")));
        command.addAll(SOON);
        ProcessBuilder builder = new ProcessBuilder(command)
                .directory(folder.toFile())
                .redirectErrorStream(true)
                .redirectOutput(log.toFile());
        builder.environment().putAll(database);
        RunningProgram program =
                new RunningProgram(builder.start(), log, URI.create("http://127.0.0.1:" + port), clock);
        program.awaitReady();
        return program;
    }

    URI base() {
        return base;
    }

    MovedClock clock() {
        return clock;
    }

    /** The lines of its log that tell of an error, each with the first lines that follow it. */
    List<String> errors() throws IOException {
        List<String> lines = Files.readAllLines(log);
        List<String> errors = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            if (lines.get(i).contains(" ERROR ") || lines.get(i).contains("Exception in thread")) {
                errors.add(String.join("\n", lines.subList(i, Math.min(lines.size(), i + 6))));
            }
        }
        return errors;
    }

    boolean isAlive() {
        return process.isAlive();
    }

    @Override
    public void close() {
        process.destroy();
        try {
            if (!process.waitFor(30, TimeUnit.SECONDS)) {
                process.destroyForcibly();
            }
        } catch (InterruptedException e) {
            process.destroyForcibly();
            Thread.currentThread().interrupt();
        }
    }

    private void awaitReady() throws IOException {
        HttpClient client = HttpClient.newHttpClient();
        HttpRequest health =
                HttpRequest.newBuilder(base.resolve("/actuator/health")).build();
        try {
            Patience.until("the program is ready", LONGEST_START, () -> {
                if (!process.isAlive()) {
                    throw new IllegalStateException("the program ended while starting:\n" + lastLines());
                }
                return client.send(health, BodyHandlers.discarding()).statusCode() == 200;
            });
        } catch (RuntimeException | AssertionError e) {
            close();
            throw e;
        }
    }

    private String lastLines() throws IOException {
        List<String> lines = Files.readAllLines(log);
        return String.join("\n", lines.subList(Math.max(0, lines.size() - 30), lines.size()));
    }

    /** A folder with the classes of the clock and nothing else of the tests. */
    private static Path clockAlone(Path folder) throws IOException {
        String place = MovedClock.class.getPackageName().replace('.', '/');
        Path from = Path.of("target", "test-classes", place).toAbsolutePath();
        Path to = Files.createDirectories(folder.resolve("classes").resolve(place));
        try (Stream<Path> classes = Files.list(from)) {
            classes.forEach(file -> copy(file, to.resolve(file.getFileName())));
        }
        return folder.resolve("classes");
    }

    private static void copy(Path from, Path to) {
        try {
            Files.copy(from, to);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Path packaged() throws IOException {
        try (Stream<Path> files = Files.list(Path.of("target"))) {
            return files.filter(file -> file.getFileName().toString().matches("earslot-.*\\.jar"))
                    .findFirst()
                    .orElseThrow(() -> new IllegalStateException("not packaged yet: mvn package"))
                    .toAbsolutePath();
        }
    }

    private static int freePort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0)) {
            return socket.getLocalPort();
        }
    }
}
