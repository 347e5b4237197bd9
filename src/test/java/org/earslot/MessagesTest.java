package org.earslot;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.text.MessageFormat;
import java.time.DayOfWeek;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.earslot.exchange.mapping.Targets;
import org.junit.jupiter.api.Test;

/** The wording of the screens: every message is a sound format, every key that a template names exists, and every key is used. */
class MessagesTest {

    private static final Path MESSAGES = Path.of("src/main/resources/messages");
    private static final Path TEMPLATES = Path.of("src/main/resources/templates");
    private static final Pattern KEY = Pattern.compile("#\\{([a-zA-Z][\\w.-]*)");
    private static final Pattern LONE_APOSTROPHE = Pattern.compile("(?<!')'(?!')");

    /** Comments, and what only developers and operators read. */
    private static final Pattern NOT_READ =
            Pattern.compile("/\\*.*?\\*/|//[^\n]*|LOG\\.\\w+\\([^;]*;|new \\w*Exception\\([^;]*;", Pattern.DOTALL);

    private static final Pattern TEXT = Pattern.compile("\"((?:[^\"\\\\\n]|\\\\.)*)\"");

    /** Two words in a row, or a word that goes on with a value. */
    private static final Pattern SENTENCE =
            Pattern.compile("(?<![\\w:/])[a-z]+[,.:]? [a-z]+(?![\\w(=])|^[a-z]{2,} $|^ [a-z]{2,}$");

    /** Said to whoever starts the program, before there are messages. */
    private static final Set<String> OF_THE_START = Set.of("Reachability.java", "UnprotectedAddress.java");

    /**
     * What somebody looked at or asked for, as the audit trail stores it for good: the same in every language. Beside it the
     * class of a fit-in in a picture, and the comment that keeps a stream open.
     */
    private static final Set<String> NOT_SENTENCES = Set.of(
            "an address",
            "still here",
            "cycle look-back",
            "day ",
            "day sheet ",
            "fix of a day",
            "may be another person",
            "may be the same person",
            "merged records",
            "new referral",
            "open decisions",
            "patient search",
            "recorded as deceased",
            "referral form",
            "referrals ",
            "running list",
            " fit-in");

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

    /** People read these standing, with somebody on the phone. A sentence ends at a full stop, not at a semicolon. */
    @Test
    void no_sentence_is_longer_than_24_words() throws IOException {
        List<String> tooLong = new ArrayList<>();
        for (String line : lines()) {
            longSentences(withoutChoices(line.substring(line.indexOf('=') + 1)))
                    .forEach(sentence -> tooLong.add(line.substring(0, line.indexOf('=')) + ": " + sentence));
        }
        for (Path letter : files(Path.of("src/main/resources/letters"), ".txt")) {
            longSentences(Files.readString(letter))
                    .forEach(sentence -> tooLong.add(letter.getFileName() + ": " + sentence));
        }
        assertThat(tooLong).isEmpty();
        assertThat(longSentences("word ".repeat(24).strip() + ". " + "word ".repeat(25)))
                .hasSize(1);
        assertThat(withoutChoices("{0,choice,1#one|1<{0} of them} are in")).isEqualTo("{0} of them are in");
    }

    private static List<String> longSentences(String text) {
        return Pattern.compile("(?<=[.!?])\\s+|\n")
                .splitAsStream(text)
                .filter(sentence -> sentence.strip().split("\\s+").length > 24)
                .toList();
    }

    /** The last of the words to choose from, which are the most. */
    private static String withoutChoices(String text) {
        return Pattern.compile("\\{\\d+,\\s*choice,((?:[^{}]|\\{[^{}]*})*)}")
                .matcher(text)
                .replaceAll(found -> Matcher.quoteReplacement(found.group(1)
                        .substring(1
                                + Math.max(
                                        found.group(1).lastIndexOf('#'),
                                        found.group(1).lastIndexOf('<')))));
    }

    /** What people and programs read stands in the messages, so the code of pages and of answers has no sentences. */
    @Test
    void no_sentence_stands_in_the_code_of_pages() throws IOException {
        List<String> found = new ArrayList<>();
        for (Path source : files(Path.of("src/main/java"), ".java")) {
            if (source.getParent().endsWith("web")
                    && !OF_THE_START.contains(source.getFileName().toString())) {
                sentences(Files.readString(source)).stream()
                        .filter(sentence -> !NOT_SENTENCES.contains(sentence))
                        .forEach(sentence -> found.add(source.getFileName() + ": " + sentence));
            }
        }
        assertThat(found).isEmpty();
    }

    @Test
    void a_sentence_in_code_is_found_out() {
        assertThat(sentences("""
                /** Says "not at all" in its comment. */
                LOG.warn("Refused a request for {}", host);
                throw new IllegalStateException("no such room");
                reading.refuse("start", "", "page.allowed.time", "a time of day");
                String many = "at most " + MOST + " visits";
                return "day/day :: lanes";
                """)).containsExactly("a time of day", "at most ", " visits");
    }

    private static List<String> sentences(String source) {
        return TEXT.matcher(NOT_READ.matcher(source).replaceAll(""))
                .results()
                .map(text -> text.group(1))
                .filter(text -> SENTENCE.matcher(text).find())
                .toList();
    }

    @Test
    void every_key_that_a_template_names_exists() throws IOException {
        List<String> keys = keys();
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

    /**
     * A key is named in a source or a template, or begins with what one names and goes on with words known there:
     * {@code "day.waits." + cause.code()}. Words of the trade have their type's name in front.
     */
    @Test
    void every_key_is_used() throws IOException {
        Sources sources = Sources.read();
        assertThat(keys().stream().filter(key -> !sources.use(key))).isEmpty();
        assertThat(List.of("day.waits.nobody-says-this", "day.noSuchWord", "NoSuchType.right", "Ear.noSuchEar"))
                .noneMatch(sources::use);
    }

    /**
     * What sources and templates say.
     *
     * @param named texts in quotation marks, and keys that templates name
     * @param words all words, in capitals with underscores
     * @param types the types that are words of the trade
     */
    private record Sources(Set<String> named, Set<String> words, Set<String> types) {

        private static final Pattern COMMENT = Pattern.compile("/\\*.*?\\*/", Pattern.DOTALL);
        private static final Pattern NAMED = Pattern.compile("[\"']([\\w.-]+)[\"']|#\\{([\\w.-]+)");
        private static final Pattern WORD = Pattern.compile("([\\w-]+)");
        private static final Pattern TYPE =
                Pattern.compile("(?:enum|record|class) (\\w+)[^{]*implements [^{]*\\bWord\\b");
        private static final Pattern NUMBERED = Pattern.compile("(.*\\D)\\d+");

        static Sources read() throws IOException {
            StringBuilder all = new StringBuilder();
            for (Path source : files(Path.of("src/main/java"), ".java")) {
                all.append(COMMENT.matcher(Files.readString(source)).replaceAll(""));
            }
            for (Path template : files(TEMPLATES, ".html")) {
                all.append(Files.readString(template));
            }
            Set<String> words = found(WORD, all).map(Sources::plain).collect(Collectors.toSet());
            Stream.of(DayOfWeek.values()).map(DayOfWeek::name).forEach(words::add);
            Targets.all().stream().map(Sources::plain).forEach(words::add);
            return new Sources(
                    found(NAMED, all).collect(Collectors.toSet()),
                    words,
                    found(TYPE, all).collect(Collectors.toSet()));
        }

        private static Stream<String> found(Pattern pattern, CharSequence text) {
            return pattern.matcher(text)
                    .results()
                    .flatMap(one -> IntStream.rangeClosed(1, one.groupCount()).mapToObj(one::group))
                    .filter(Objects::nonNull);
        }

        private static String plain(String word) {
            return word.toUpperCase(Locale.ROOT).replace('-', '_');
        }

        boolean use(String key) {
            int type = key.indexOf('.');
            Matcher numbered = NUMBERED.matcher(key);
            return named.contains(key)
                    || numbered.matches() && named.contains(numbered.group(1))
                    || type > 0 && types.contains(key.substring(0, type)) && known(key.substring(type + 1))
                    || IntStream.range(0, key.length())
                            .filter(at -> key.charAt(at) == '.')
                            .anyMatch(dot -> made(key.substring(0, dot), key.substring(dot)));
        }

        /** By putting a word after a text that ends with the dot, or an ending that begins with it after a key. */
        private boolean made(String before, String after) {
            boolean ending = named.contains(after) || after.equals(".remedy") || after.equals(".allowed");
            return named.contains(before + ".") && known(after.substring(1)) || ending && use(before);
        }

        private boolean known(String rest) {
            return Stream.of(rest.split("\\.")).map(Sources::plain).allMatch(words::contains);
        }
    }

    private static List<String> keys() throws IOException {
        return lines().stream()
                .map(line -> line.substring(0, line.indexOf('=')).strip())
                .toList();
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
