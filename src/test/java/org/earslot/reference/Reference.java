package org.earslot.reference;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The stored numbers of one script in {@code src/test/resources/reference}: {@code NAME.txt} beside {@code NAME.R}, each
 * with tool, version and call. The tests take their expected numbers from here; the rerun compares the same ones.
 */
public final class Reference {

    /**
     * Values under one key.
     *
     * @param within the relative difference that a rerun may show
     */
    public record Line(double within, double[] values) {}

    private final String name;
    private final Map<String, Line> lines;

    private Reference(String name, Map<String, Line> lines) {
        this.name = name;
        this.lines = lines;
    }

    /** The numbers of script {@code name}. */
    public static Reference of(String name) {
        try (InputStream in = Reference.class.getResourceAsStream("/reference/" + name + ".txt")) {
            if (in == null) {
                throw new IllegalArgumentException("nothing is stored of a script " + name);
            }
            Map<String, Line> lines = new LinkedHashMap<>();
            new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(line -> !line.isBlank() && !line.startsWith("#"))
                    .map(line -> line.split(" "))
                    .forEach(cells -> lines.put(cells[0], line(cells)));
            return new Reference(name, lines);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Line line(String[] cells) {
        double[] values = Arrays.stream(cells, 2, cells.length)
                .mapToDouble(Double::parseDouble)
                .toArray();
        return new Line(Double.parseDouble(cells[1]), values);
    }

    /** The values under a key, in the order that the stored file states. */
    public double[] values(String key) {
        Line line = lines.get(key);
        if (line == null) {
            throw new IllegalArgumentException(name + ".txt has no " + key);
        }
        return line.values().clone();
    }

    /** The only value under a key. */
    public double value(String key) {
        double[] values = values(key);
        if (values.length != 1) {
            throw new IllegalArgumentException(key + " of " + name + ".txt has " + values.length + " values");
        }
        return values[0];
    }

    Map<String, Line> lines() {
        return lines;
    }
}
