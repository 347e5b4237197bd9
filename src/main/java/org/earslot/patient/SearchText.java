package org.earslot.patient;

import java.text.Normalizer;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * The one line of text that a patient is searched by: a space before each word, first the words of the family name, then
 * those of the given name, the local number, the date of birth as yyyymmdd, the digits of telephone numbers, and a mail
 * address. Letters have no accents and are in lower case. "Brackenfold, Tessaly", K0883, born 14 March 1951, reads
 * {@code " brackenfold tessaly k0883 19510314 01632960123"}.
 */
final class SearchText {

    private static final Pattern BETWEEN_WORDS = Pattern.compile("[\\s,;/_\\p{Pd}]+");
    private static final Pattern IN_A_NUMBER = Pattern.compile("[\\s()+./-]");
    private static final Pattern NUMBER = Pattern.compile("\\d{3,}");
    private static final Pattern MAIL = Pattern.compile("[^\\s,;<>]+@[^\\s,;<>]+");
    /** More is cut off, so that no record is slow to search. */
    private static final int LONGEST = 500;

    private SearchText() {}

    static String of(
            @Nullable String familyName,
            @Nullable String givenName,
            String localNumber,
            @Nullable LocalDate born,
            @Nullable String contact) {
        Set<String> words = new LinkedHashSet<>();
        words.addAll(words(familyName));
        words.addAll(words(givenName));
        words.add(number(localNumber));
        if (born != null) {
            words.add(born.format(DateTimeFormatter.BASIC_ISO_DATE));
        }
        if (contact != null) {
            NUMBER.matcher(IN_A_NUMBER.matcher(contact).replaceAll(""))
                    .results()
                    .map(MatchResult::group)
                    .forEach(words::add);
            MAIL.matcher(contact.toLowerCase(Locale.ROOT))
                    .results()
                    .map(MatchResult::group)
                    .forEach(words::add);
        }
        String line = words.stream().map(word -> " " + word).collect(Collectors.joining());
        return line.substring(0, Math.min(LONGEST, line.length()));
    }

    /** The words of a name: {@code "O'Súil-Leabháin"} has the words "osuil" and "leabhain". */
    static List<String> words(@Nullable String name) {
        return name == null
                ? List.of()
                : BETWEEN_WORDS
                        .splitAsStream(name)
                        .map(Spelling::plain)
                        .filter(word -> !word.isEmpty())
                        .toList();
    }

    /** A local number or what is typed for one: letters and digits only. */
    static String number(String typed) {
        return Normalizer.normalize(typed, Normalizer.Form.NFKC)
                .toLowerCase(Locale.ROOT)
                .replaceAll("[^\\p{L}\\p{N}]", "");
    }

    /** The words of a line, as it was stored. */
    static Stream<String> wordsOf(String line) {
        return Arrays.stream(line.strip().split(" "));
    }
}
