package org.earslot.page;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.IntPredicate;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** Reads the text fields of one form. Blank is "not given". */
public final class Reading extends Problems {

    /** One line of text without control characters, of at most {@code longest} characters; never repeated in a problem. */
    public Optional<String> text(String field, @Nullable String given, int longest) {
        return written(field, given, longest, Reading::unseen, "page.allowed.line");
    }

    /** Likewise text that may run over several lines. */
    public Optional<String> lines(String field, @Nullable String given, int longest) {
        return written(field, given, longest, Reading::unseenInLines, "page.allowed.lines");
    }

    /** Whether a text is one line without control characters, as {@link #text} wants it. */
    public static boolean isLine(String text) {
        return text.codePoints().noneMatch(Reading::unseen);
    }

    /** Whether a text has no control characters but breaks of lines and tabs, as {@link #lines} wants it. */
    static boolean isText(String text) {
        return text.codePoints().noneMatch(Reading::unseenInLines);
    }

    private static boolean unseenInLines(int c) {
        return unseen(c) && c != '\n' && c != '\r' && c != '\t';
    }

    private Optional<String> written(
            String field, @Nullable String given, int longest, IntPredicate refused, String allowed) {
        if (given == null || given.isBlank()) {
            return Optional.empty();
        }
        String text = given.strip();
        if (text.length() > longest) {
            refuse(field, "", "page.allowed.longest", String.valueOf(longest), String.valueOf(text.length()));
            return Optional.empty();
        }
        if (text.codePoints().anyMatch(refused)) {
            refuse(field, "", allowed);
            return Optional.empty();
        }
        return Optional.of(text);
    }

    /**
     * Control characters (line breaks and tabs included), the two Unicode separators of lines, and the characters that turn
     * the direction of writing (Unicode Standard, property Bidi_Control), by which a name could be shown as another; also
     * halves of surrogate pairs, which a database may refuse.
     */
    private static boolean unseen(int c) {
        return Character.isISOControl(c)
                || c == 0x2028
                || c == 0x2029
                || c == 0x061C
                || c == 0x200E
                || c == 0x200F
                || (c >= 0x202A && c <= 0x202E)
                || (c >= 0x2066 && c <= 0x2069)
                || (c >= Character.MIN_SURROGATE && c <= Character.MAX_SURROGATE);
    }

    /** A date as in 2026-04-14, from {@code first} to {@code last}. */
    public Optional<LocalDate> date(String field, @Nullable String given, LocalDate first, LocalDate last) {
        return read(
                field,
                given,
                LocalDate::parse,
                date -> !date.isBefore(first) && !date.isAfter(last),
                "page.allowed.dates",
                first.toString(),
                last.toString());
    }

    /** Likewise a date of birth; never repeated in a problem. */
    public Optional<LocalDate> dateOfBirth(String field, @Nullable String given, LocalDate first, LocalDate last) {
        Reading own = new Reading();
        Optional<LocalDate> date = own.date(field, given, first, last);
        own.problems().forEach(problem -> add(new Problem(field, "", problem.allowed(), problem.remedy())));
        return date;
    }

    /** A time of day as in 09:30. */
    public Optional<LocalTime> time(String field, @Nullable String given) {
        return read(field, given, LocalTime::parse, time -> true, "page.allowed.timeOfDay");
    }

    /** A whole number from {@code least} to {@code most}. */
    public Optional<Integer> whole(String field, @Nullable String given, int least, int most) {
        return read(
                field,
                given,
                Integer::valueOf,
                number -> number >= least && number <= most,
                "page.allowed.wholeBetween",
                String.valueOf(least),
                String.valueOf(most));
    }

    /** One of the words listed, found by {@code find}. */
    public <T> Optional<T> word(
            String field, @Nullable String given, Function<String, Optional<T>> find, List<String> allowed) {
        if (given == null || given.isBlank()) {
            return Optional.empty();
        }
        Optional<T> found = find.apply(given.strip());
        if (found.isEmpty() && !full()) {
            refuse(field, given, "page.allowed.oneOf", String.join(", ", allowed));
        }
        return found;
    }

    /** An id. */
    public Optional<UUID> id(String field, @Nullable String given) {
        return read(field, given, UUID::fromString, id -> true, "page.allowed.storedId");
    }

    /**
     * Notes that a field that must be given was not (unless it already has a problem).
     *
     * @param key of what is allowed
     */
    public <T> Optional<T> required(String field, Optional<T> value, String key, Object... arguments) {
        if (value.isEmpty() && !wrong(field)) {
            add(Problem.missing(field, key, arguments));
        }
        return value;
    }

    /** Likewise of a whole number from {@code least} to {@code most}. */
    public Optional<Integer> requiredWhole(String field, @Nullable String given, int least, int most) {
        return required(
                field,
                whole(field, given, least, most),
                "page.allowed.wholeBetween",
                String.valueOf(least),
                String.valueOf(most));
    }

    /** Likewise of one of the words listed. */
    public <T> Optional<T> requiredWord(
            String field, @Nullable String given, Function<String, Optional<T>> find, Word[] words) {
        List<String> codes = Word.codes(words);
        return required(field, word(field, given, find, codes), "page.allowed.oneOf", String.join(", ", codes));
    }

    private <T extends Object> Optional<T> read(
            String field,
            @Nullable String given,
            Function<String, T> parse,
            Function<T, Boolean> holds,
            String allowed,
            Object... arguments) {
        if (given == null || given.isBlank()) {
            return Optional.empty();
        }
        try {
            T value = parse.apply(given.strip());
            if (holds.apply(value)) {
                return Optional.of(value);
            }
        } catch (DateTimeParseException | IllegalArgumentException e) {
            // Falls through to the same refusal as a value out of range.
        }
        refuse(field, given, allowed, arguments);
        return Optional.empty();
    }
}
