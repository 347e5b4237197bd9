package org.earslot.testing;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A Java machine of its own with this test's classes, ended with the test. */
public final class Forked implements AutoCloseable {

    private final Process process;
    private final BufferedReader out;

    private Forked(Process process) {
        this.process = process;
        this.out = new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    }

    /** Starts {@code main} with options of the machine, its two streams joined. */
    public static Forked start(List<String> options, Class<?> main, String... arguments) throws IOException {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(List.of("-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-Duser.timezone=UTC"));
        command.addAll(options);
        command.addAll(List.of("-cp", System.getProperty("java.class.path"), main.getName()));
        command.addAll(List.of(arguments));
        return new Forked(new ProcessBuilder(command).redirectErrorStream(true).start());
    }

    /** Reads what is printed up to a line that begins so, and answers the rest of that line. */
    public String await(String prefix) throws IOException {
        StringBuilder before = new StringBuilder();
        for (String line = out.readLine(); line != null; line = out.readLine()) {
            if (line.startsWith(prefix)) {
                return line.substring(prefix.length());
            }
            before.append(line).append('\n');
        }
        throw new IOException("ended before it printed \"" + prefix + "\":\n" + before);
    }

    /** Reads on to the end of what is printed and answers the exit status. */
    public int exitStatus() throws IOException, InterruptedException {
        while (out.readLine() != null) {
            // Only its end matters.
        }
        if (!process.waitFor(1, TimeUnit.MINUTES)) {
            throw new IOException("it did not end");
        }
        return process.exitValue();
    }

    /** Lets go on whatever it prints without reading it. */
    public void ignoreOutput() {
        Thread reader = new Thread(
                () -> {
                    try {
                        exitStatus();
                    } catch (IOException e) {
                        // It has ended.
                    } catch (InterruptedException e) {
                        Thread.currentThread().interrupt();
                    }
                },
                "forked-output");
        reader.setDaemon(true);
        reader.start();
    }

    public boolean isAlive() {
        return process.isAlive();
    }

    @Override
    public void close() {
        process.destroyForcibly();
    }
}
