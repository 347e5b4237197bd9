package org.earslot.account;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.text.Normalizer;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Passwords that are long enough and still among the first to be tried: common words with digits added, rows of keys,
 * sequences, repetitions, and names of the clinic, the person or this program.
 */
public final class GuessedPasswords {

    private static final Set<String> COMMON = read();
    private static final List<String> ROWS = List.of(
            "qwertyuiop",
            "qwertzuiop",
            "azertyuiop",
            "asdfghjkl",
            "zxcvbnm",
            "yxcvbnm",
            "01234567890",
            "abcdefghijklmnopqrstuvwxyz",
            "qazwsxedcrfvtgbyhnujmikolp",
            "1qaz2wsx3edc4rfv5tgb6yhn",
            "1q2w3e4r5t6y7u8i9o0p");
    private static final int SHORTEST_RUN = 3;
    private static final int LEFT_OVER = 4;
    private static final int WORDS = 2;

    private GuessedPasswords() {}

    /**
     * Whether the password is easily guessed.
     *
     * @param own names that anyone would try here: the clinic's, the person's
     */
    public static boolean contain(String password, Collection<String> own) {
        Set<String> words = new HashSet<>(COMMON);
        own.stream()
                .map(GuessedPasswords::letters)
                .filter(name -> name.length() >= SHORTEST_RUN)
                .forEach(words::add);
        own.stream()
                .flatMap(name -> List.of(name.split("[^\\p{L}\\p{N}]+")).stream())
                .map(GuessedPasswords::letters)
                .filter(part -> part.length() > SHORTEST_RUN)
                .forEach(words::add);
        String plain = plain(password);
        return guessed(plain, words) || guessed(spelt(plain), words);
    }

    private static boolean guessed(String plain, Set<String> words) {
        String dense = plain.replaceAll("[^\\p{L}\\p{N}]", "");
        String core = dense.replaceAll("^\\d+|\\d+$", "");
        return core.length() < LEFT_OVER
                || words.contains(dense)
                || words.contains(core)
                || repeats(dense)
                || repeats(core)
                || left(dense) < LEFT_OVER
                || left(core) < LEFT_OVER
                || chain(letters(core), words, WORDS);
    }

    /** Whether the whole is one short part again and again. */
    private static boolean repeats(String text) {
        for (int length = 1; length <= text.length() / 2; length++) {
            String part = text.substring(0, length);
            if (text.length() % length == 0
                    && part.repeat(text.length() / length).equals(text)) {
                return true;
            }
        }
        return false;
    }

    /** How many characters are left once runs along rows of keys, forwards or backwards, are taken out. */
    private static int left(String text) {
        int left = 0;
        int at = 0;
        while (at < text.length()) {
            int run = run(text, at);
            if (run < SHORTEST_RUN) {
                left++;
                at++;
            } else {
                at += run;
            }
        }
        return left;
    }

    private static int run(String text, int at) {
        int longest = 0;
        for (String row : ROWS) {
            String back = new StringBuilder(row).reverse().toString();
            int end = at + 1;
            while (end <= text.length()
                    && (row.contains(text.substring(at, end)) || back.contains(text.substring(at, end)))) {
                end++;
            }
            longest = Math.max(longest, end - 1 - at);
        }
        return longest;
    }

    /** Whether the text is a chain of at most that many words, with fewer than {@link #LEFT_OVER} letters besides. */
    private static boolean chain(String text, Set<String> words, int most) {
        if (text.length() < LEFT_OVER) {
            return true;
        }
        return most > 0
                && words.stream()
                        .filter(word -> word.length() >= SHORTEST_RUN && text.contains(word))
                        .anyMatch(word -> chain(text.replace(word, ""), words, most - 1));
    }

    private static String plain(String text) {
        return Normalizer.normalize(text, Normalizer.Form.NFD)
                .replaceAll("\\p{M}", "")
                .toLowerCase(Locale.ROOT);
    }

    /** With the usual digits and signs read as the letters that they replace. */
    private static String spelt(String plain) {
        return plain.replace('0', 'o')
                .replace('1', 'l')
                .replace('3', 'e')
                .replace('4', 'a')
                .replace('5', 's')
                .replace('7', 't')
                .replace('@', 'a')
                .replace('$', 's')
                .replace('!', 'i');
    }

    private static String letters(String text) {
        return plain(text).replaceAll("[^\\p{L}]", "");
    }

    private static Set<String> read() {
        try (BufferedReader lines = new BufferedReader(new InputStreamReader(
                GuessedPasswords.class.getResourceAsStream("/account/common-passwords.txt"), StandardCharsets.UTF_8))) {
            return lines.lines().filter(line -> !line.startsWith("#")).collect(Collectors.toUnmodifiableSet());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
