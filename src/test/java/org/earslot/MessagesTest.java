package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.text.MessageFormat;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The wording of the screens: every message is a sound format, and every key that a template names exists. */
class MessagesTest {

    private static final Path MESSAGES = Path.of("src/main/resources/messages");
    private static final Path TEMPLATES = Path.of("src/main/resources/templates");
    private static final Pattern KEY = Pattern.compile("#\\{([a-zA-Z][\\w.-]*)");
    private static final Pattern LONE_APOSTROPHE = Pattern.compile("(?<!')'(?!')");

    @Test
    void every_message_is_a_sound_format() throws IOException {
        List<String> lines = lines();
        assertThat(lines).hasSizeGreaterThan(200);
        assertThat(lines).allSatisfy(line -> {
            String text = line.substring(line.indexOf('=') + 1);
            assertThat(LONE_APOSTROPHE.matcher(text).find()).as(line).isFalse();
            assertThat(new MessageFormat(text)).isNotNull();
        });
    }

    @Test
    void every_key_that_a_template_names_exists() throws IOException {
        List<String> keys = lines().stream()
                .map(line -> line.substring(0, line.indexOf('=')).strip())
                .toList();
        List<String> missing = new ArrayList<>();
        for (Path template : files(TEMPLATES, ".html")) {
            Matcher named = KEY.matcher(Files.readString(template));
            while (named.find()) {
                if (!keys.contains(named.group(1))) {
                    missing.add(template.getFileName() + ": " + named.group(1));
                }
            }
        }
        assertThat(missing).isEmpty();
    }

    private static List<String> lines() throws IOException {
        List<String> lines = new ArrayList<>();
        for (Path file : files(MESSAGES, ".properties")) {
            Files.readAllLines(file).stream()
                    .filter(line -> line.contains("=") && !line.startsWith("#"))
                    .forEach(lines::add);
        }
        return lines;
    }

    private static List<Path> files(Path folder, String ending) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            return all.filter(file -> file.toString().endsWith(ending)).toList();
        }
    }
}
