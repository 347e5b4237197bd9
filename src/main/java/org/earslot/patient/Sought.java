package org.earslot.patient;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What was typed into the search for a patient, part by part. A patient is found by all parts together, in any order: parts
 * of names, a date of birth in any usual form (the day before the month, if both are possible), digits of a telephone
 * number, the local number, a mail address.
 */
record Sought(List<Part> parts) {

    /** Longer texts are cut off. */
    private static final int LONGEST = 80;
    /** More parts narrow nothing further. */
    private static final int MOST_PARTS = 6;
    /** Names shorter than this are not looked for with a letter wrong. */
    private static final int SHORTEST_MISSPELT = 4;
    /** Telephone numbers agree in these last digits, whatever the prefix of country or trunk. */
    private static final int LAST_DIGITS = 9;

    private static final Pattern YEAR_FIRST = Pattern.compile("\\b(\\d{4})[-/. ](\\d{1,2})[-/. ](\\d{1,2})\\b");
    private static final Pattern DAY_FIRST = Pattern.compile("\\b(\\d{1,2})[-/. ](\\d{1,2})[-/. ](\\d{4}|\\d{2})\\b");
    private static final Pattern DAY_AND_MONTH_IN_LETTERS =
            Pattern.compile("\\b(\\d{1,2})(?:st|nd|rd|th)?[-/. ]*([a-z]{3,9})[-/., ]*(\\d{4}|\\d{2})\\b");
    private static final Pattern MONTH_IN_LETTERS_FIRST =
            Pattern.compile("\\b([a-z]{3,9})[-/. ]*(\\d{1,2})(?:st|nd|rd|th)?[-/., ]+(\\d{4}|\\d{2})\\b");
    private static final Pattern PHONE = Pattern.compile("\\+?\\d[\\d() .-]{5,}\\d");
    private static final Pattern COMPACT_DATE = Pattern.compile("(\\d{2})(\\d{2})(\\d{4}|\\d{2})");
    private static final List<String> MONTHS =
            List.of("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec");

    /**
     * One part.
     *
     * @param forms what the line of a patient may contain of it, one of which is enough
     * @param name whether it may be part of a name with a letter wrong
     */
    record Part(Set<String> forms, boolean name) {

        Part {
            forms = Set.copyOf(forms);
        }

        /** Whether the line contains it letter by letter. */
        boolean in(String line) {
            return forms.stream().anyMatch(line::contains);
        }

        /** Whether it is a whole word of the line. */
        boolean wholeWordOf(String line) {
            return SearchText.wordsOf(line).anyMatch(forms::contains);
        }

        /** Whether a word of the line begins with it. */
        boolean beginsWordOf(String line) {
            return forms.stream().anyMatch(form -> line.contains(" " + form));
        }

        /** Whether a word of the line, or the beginning of one, is one letter away. */
        boolean nearly(String line) {
            if (in(line)) {
                return true;
            }
            String typed = forms.iterator().next();
            return name && SearchText.wordsOf(line).anyMatch(word -> nearlyBegins(word, typed));
        }

        private static boolean nearlyBegins(String word, String typed) {
            for (int length = typed.length() - 1; length <= typed.length() + 1; length++) {
                if (length <= word.length() && Spelling.distance(word.substring(0, length), typed) <= 1) {
                    return true;
                }
            }
            return false;
        }

        /** Pieces of which a line has at least one if it has the part with one letter put in, left out or changed. */
        Set<String> pieces() {
            if (!name) {
                return forms;
            }
            String typed = forms.iterator().next();
            int count = typed.length() < 6 ? 2 : 3;
            Set<String> pieces = new LinkedHashSet<>();
            for (int i = 0; i < count; i++) {
                pieces.add(typed.substring(typed.length() * i / count, typed.length() * (i + 1) / count));
            }
            return pieces;
        }
    }

    Sought {
        parts = List.copyOf(parts);
    }

    /**
     * Reads what was typed.
     *
     * @param typed as it came
     * @param today by which a year of two digits is read: nobody is born after it
     */
    static Sought of(String typed, LocalDate today) {
        String text = typed.strip().toLowerCase(Locale.ROOT);
        StringBuilder rest = new StringBuilder(text.substring(0, Math.min(LONGEST, text.length())));
        List<Part> parts = new ArrayList<>();
        takeDate(rest, today).ifPresent(parts::add);
        takePhone(rest, today).ifPresent(parts::add);
        for (String word : rest.toString().split("[\\s,;]+")) {
            parts.addAll(word(word, today));
        }
        return new Sought(parts.stream().distinct().limit(MOST_PARTS).toList());
    }

    boolean isEmpty() {
        return parts.isEmpty();
    }

    private static List<Part> word(String word, LocalDate today) {
        if (word.indexOf('@') > 0) {
            return List.of(new Part(Set.of(word), false));
        }
        String number = SearchText.number(word);
        if (number.chars().anyMatch(Character::isDigit)) {
            Set<String> forms = new LinkedHashSet<>(Set.of(number));
            compactDate(number, today).ifPresent(forms::add);
            return List.of(new Part(forms, false));
        }
        return SearchText.words(word).stream()
                .map(name -> new Part(Set.of(name), name.length() >= SHORTEST_MISSPELT))
                .toList();
    }

    private static Optional<Part> takePhone(StringBuilder text, LocalDate today) {
        Matcher phone = PHONE.matcher(text);
        if (!phone.find()) {
            return Optional.empty();
        }
        String digits = phone.group().replaceAll("\\D", "");
        text.replace(phone.start(), phone.end(), " ");
        Set<String> forms = new LinkedHashSet<>(Set.of(digits));
        if (digits.startsWith("0")) {
            forms.add(digits.replaceFirst("^0+", ""));
        }
        if (digits.length() > LAST_DIGITS) {
            forms.add(digits.substring(digits.length() - LAST_DIGITS));
        }
        compactDate(digits, today).ifPresent(forms::add);
        forms.remove("");
        return Optional.of(new Part(forms, false));
    }

    private static Optional<Part> takeDate(StringBuilder text, LocalDate today) {
        return take(text, YEAR_FIRST, m -> date(number(m.group(1)), number(m.group(2)), number(m.group(3))))
                .or(() -> take(text, DAY_FIRST, m -> dayAndMonth(m, today)))
                .or(() ->
                        take(text, DAY_AND_MONTH_IN_LETTERS, m -> inLetters(m.group(1), m.group(2), m.group(3), today)))
                .or(() -> take(text, MONTH_IN_LETTERS_FIRST, m -> inLetters(m.group(2), m.group(1), m.group(3), today)))
                .map(date -> new Part(Set.of(compact(date)), false));
    }

    private interface Reader {
        Optional<LocalDate> read(MatchResult match);
    }

    private static Optional<LocalDate> take(StringBuilder text, Pattern pattern, Reader reader) {
        Matcher matcher = pattern.matcher(text);
        while (matcher.find()) {
            Optional<LocalDate> date = reader.read(matcher);
            if (date.isPresent()) {
                text.replace(matcher.start(), matcher.end(), " ");
                return date;
            }
        }
        return Optional.empty();
    }

    private static Optional<LocalDate> dayAndMonth(MatchResult m, LocalDate today) {
        int year = year(m.group(3), today);
        return date(year, number(m.group(2)), number(m.group(1)))
                .or(() -> date(year, number(m.group(1)), number(m.group(2))));
    }

    private static Optional<LocalDate> inLetters(String day, String month, String year, LocalDate today) {
        int n = MONTHS.indexOf(month.substring(0, 3)) + 1;
        return n == 0 ? Optional.empty() : date(year(year, today), n, number(day));
    }

    /** Of "14031951" and "140351", the date in the order of a line; empty where it is none. */
    private static Optional<String> compactDate(String digits, LocalDate today) {
        Matcher m = COMPACT_DATE.matcher(digits);
        return m.matches() ? dayAndMonth(m, today).map(Sought::compact) : Optional.empty();
    }

    private static int year(String digits, LocalDate today) {
        int year = number(digits);
        if (digits.length() == 4) {
            return year;
        }
        int century = today.getYear() / 100 * 100;
        return century + year > today.getYear() ? century - 100 + year : century + year;
    }

    private static int number(String digits) {
        return Integer.parseInt(digits);
    }

    private static Optional<LocalDate> date(int year, int month, int day) {
        try {
            return Optional.of(LocalDate.of(year, month, day));
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    private static String compact(LocalDate date) {
        return date.format(DateTimeFormatter.BASIC_ISO_DATE);
    }
}
