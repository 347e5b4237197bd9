package org.earslot.testing;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.json.JsonMapper;

/** Changes a valid body a little, in as many ways as come to mind; the same random numbers give the same bodies. */
public final class Mutations {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    /** In place of any value. Written as JSON, so that numbers are as long as they please. */
    private static final List<String> VALUES = List.of(
            "null",
            "true",
            "false",
            "0",
            "-1",
            "1.5",
            "1e400",
            "-1e-400",
            "99999999999999999999999999",
            "2147483648",
            "\"\"",
            "\" \"",
            "\"x\"",
            "\"\\u0000\"",
            "\"a\\u0000b\"",
            "\"\\u202eabc\"",
            "\"\\ud800\"",
            "\"2026-02-30\"",
            "\"+999999999-12-31\"",
            "\"0000-01-01\"",
            "\"24:00\"",
            "\"2026-03-04T25:00\"",
            "\"microsuction\"",
            "\"MICROSUCTION\"",
            "\"right\"",
            "\"Right\"",
            "\"yes\"",
            "\"true\"",
            "\"30\"",
            "[]",
            "[null]",
            "[null,\"right\"]",
            "[\"right\",\"right\"]",
            "[[[[]]]]",
            "{}",
            "{\"x\":null}",
            "{\"\":\"\"}",
            "{\"perforation\":null}",
            "{\"right\":null}",
            "\"=1+1\"",
            "\"'; drop table patient; --\"");

    private static final List<String> NAMES =
            List.of("x", "", "\u0000", "redflags", "ID", "id", "__proto__", "a.b", "ears[0]");

    private final Random random;

    public Mutations(Random random) {
        this.random = random;
    }

    /** A body made from valid JSON. */
    public byte[] ofJson(String valid) {
        String text = write(JSON.readValue(valid, Object.class), random.nextInt(4));
        return switch (random.nextInt(12)) {
            case 0 -> bytes(text);
            case 1 -> text.replaceFirst("\\{", "{\"x\":1,\"x\":2,").getBytes(StandardCharsets.UTF_8);
            case 2 -> nested();
            default -> text.getBytes(StandardCharsets.UTF_8);
        };
    }

    /** A body made from text of another kind, by its bytes alone. */
    public byte[] ofText(String valid) {
        return random.nextInt(5) == 0 ? valid.getBytes(StandardCharsets.UTF_8) : bytes(valid);
    }

    /** Cut, with bytes turned, repeated or broken. */
    private byte[] bytes(String text) {
        byte[] whole = text.getBytes(StandardCharsets.UTF_8);
        byte[] cut = random.nextInt(3) == 0 ? Arrays.copyOf(whole, random.nextInt(whole.length + 1)) : whole;
        for (int left = cut.length == 0 ? 0 : random.nextInt(4); left > 0; left--) {
            cut[random.nextInt(cut.length)] = (byte) random.nextInt(256);
        }
        return cut;
    }

    private byte[] nested() {
        int deep = 1 << random.nextInt(15);
        String open = random.nextBoolean() ? "[" : "{\"a\":";
        return open.repeat(deep).getBytes(StandardCharsets.UTF_8);
    }

    /** Writes a value as JSON with {@code changes} changes somewhere in it. */
    private String write(@Nullable Object value, int changes) {
        if (changes > 0 && random.nextInt(6) == 0) {
            return VALUES.get(random.nextInt(VALUES.size()));
        }
        if (value instanceof Map<?, ?> object) {
            return object(object, changes);
        }
        if (value instanceof List<?> list) {
            return list(list, changes);
        }
        if (value instanceof String text && changes > 0 && random.nextInt(4) == 0) {
            return JSON.writeValueAsString(text.repeat(1 << random.nextInt(12)));
        }
        return JSON.writeValueAsString(value);
    }

    private String object(Map<?, ?> object, int changes) {
        Map<String, String> members = new LinkedHashMap<>();
        int changed = object.isEmpty() ? -1 : random.nextInt(object.size());
        int at = 0;
        for (Map.Entry<?, ?> member : object.entrySet()) {
            String name = member.getKey().toString();
            boolean here = changes > 0 && (at++ == changed || random.nextInt(8) == 0);
            if (here && random.nextInt(6) == 0) {
                name = NAMES.get(random.nextInt(NAMES.size()));
            }
            if (!here || random.nextInt(8) != 0) {
                String written = here && random.nextBoolean()
                        ? VALUES.get(random.nextInt(VALUES.size()))
                        : write(member.getValue(), here ? changes : 0);
                members.put(name, written);
            }
        }
        List<String> all = new ArrayList<>();
        members.forEach((name, written) -> all.add(JSON.writeValueAsString(name) + ":" + written));
        return "{" + String.join(",", all) + "}";
    }

    private String list(List<?> list, int changes) {
        List<String> items = new ArrayList<>();
        list.forEach(item -> items.add(write(item, changes)));
        if (changes > 0 && random.nextInt(4) == 0) {
            items.add(random.nextInt(items.size() + 1), VALUES.get(random.nextInt(VALUES.size())));
        }
        if (changes > 0 && !items.isEmpty() && random.nextInt(20) == 0) {
            items.addAll(java.util.Collections.nCopies(500, items.get(0)));
        }
        return "[" + String.join(",", items) + "]";
    }
}
