package org.earslot.unchanged;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.zip.GZIPInputStream;
import java.util.zip.GZIPOutputStream;

/**
 * Text by place: a page, an address, a table. Written as one file, each place under a line {@code === place}; a file
 * named {@code .gz} is compressed.
 */
final class Recording {

    private static final String HEAD = "=== ";
    private static final int MOST_TOLD = 12;
    private static final int LONGEST_TOLD = 300;

    private final Map<String, List<String>> places = new LinkedHashMap<>();

    /** @throws IllegalStateException if the place was recorded before: nothing may hide behind its namesake */
    void add(String place, String text) {
        List<String> lines = text.lines()
                .map(String::stripTrailing)
                .map(line -> line.startsWith(HEAD) ? " " + line : line)
                .toList();
        if (places.put(place, lines) != null) {
            throw new IllegalStateException("recorded twice: " + place);
        }
    }

    int size() {
        return places.size();
    }

    void write(Path file) throws IOException {
        Files.createDirectories(file.getParent());
        StringBuilder text = new StringBuilder();
        places.forEach((place, lines) -> {
            text.append(HEAD).append(place).append('\n');
            lines.forEach(line -> text.append(line).append('\n'));
        });
        try (OutputStream plain = Files.newOutputStream(file);
                OutputStream out = zipped(file) ? new GZIPOutputStream(plain) : plain) {
            out.write(text.toString().getBytes(StandardCharsets.UTF_8));
        }
    }

    static Recording read(Path file) throws IOException {
        try (InputStream plain = Files.newInputStream(file);
                InputStream in = zipped(file) ? new GZIPInputStream(plain) : plain) {
            return parse(new String(in.readAllBytes(), StandardCharsets.UTF_8));
        }
    }

    private static boolean zipped(Path file) {
        return file.toString().endsWith(".gz");
    }

    private static Recording parse(String text) {
        Recording recording = new Recording();
        List<String> lines = new ArrayList<>();
        for (String line : text.split("\n")) {
            if (line.startsWith(HEAD)) {
                lines = new ArrayList<>();
                recording.places.put(line.substring(HEAD.length()), lines);
            } else {
                lines.add(line);
            }
        }
        return recording;
    }

    /** Each place that differs, with the number and the text of the first line that does; empty where all is the same. */
    List<String> differencesTo(Recording now) {
        List<String> differences = new ArrayList<>();
        TreeSet<String> all = new TreeSet<>(places.keySet());
        all.addAll(now.places.keySet());
        for (String place : all) {
            if (!now.places.containsKey(place)) {
                differences.add(place + ": is gone");
            } else if (!places.containsKey(place)) {
                differences.add(place + ": is new");
            } else {
                compare(place, places.get(place), now.places.get(place), differences);
            }
        }
        return differences.size() <= MOST_TOLD ? differences : shortened(differences);
    }

    private static List<String> shortened(List<String> differences) {
        List<String> told = new ArrayList<>(differences.subList(0, MOST_TOLD));
        told.add("and " + (differences.size() - MOST_TOLD) + " more places");
        return told;
    }

    private static void compare(String place, List<String> before, List<String> now, List<String> differences) {
        int line = 0;
        while (line < before.size() && line < now.size() && before.get(line).equals(now.get(line))) {
            line++;
        }
        if (line < before.size() || line < now.size()) {
            differences.add("%s, line %d:%n    was %s%n    is  %s"
                    .formatted(place, line + 1, told(before, line), told(now, line)));
        }
    }

    private static String told(List<String> lines, int line) {
        if (line >= lines.size()) {
            return "(the end)";
        }
        String text = lines.get(line).strip();
        return text.length() <= LONGEST_TOLD ? text : text.substring(0, LONGEST_TOLD) + " ...";
    }
}
