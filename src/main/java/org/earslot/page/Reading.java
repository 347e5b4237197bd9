package org.earslot.page;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.IntPredicate;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Reads the text fields of one form, gathering every problem so that all are reported at once. Blank is "not given".
 * Not for several threads.
 */
public final class Reading {

    /** More problems than these are not gathered: nobody reads them, and each costs memory. */
    public static final int MOST_PROBLEMS = 200;

    private final List<Problem> problems = new ArrayList<>();

    /** Everything found wrong so far. */
    public List<Problem> problems() {
        return List.copyOf(problems);
    }

    /** The problems by field, the first of each, for showing beside the fields. */
    public Map<String, Problem> byField() {
        return problems.stream()
                .collect(Collectors.toMap(Problem::field, problem -> problem, (first, second) -> first));
    }

    public boolean clean() {
        return problems.isEmpty();
    }

    /** Whether no more problems are gathered. */
    public boolean full() {
        return problems.size() == MOST_PROBLEMS;
    }

    /** Adds a problem found elsewhere. */
    public void problem(String field, @Nullable String given, String allowed, String remedy) {
        if (problems.size() < MOST_PROBLEMS) {
            problems.add(new Problem(field, given == null ? "" : given, allowed, remedy));
        }
    }

    /** Adds what a room refused. */
    public void problem(Reason reason, Messages messages) {
        problem(reason.field(), reason.given(), messages.fact(reason), messages.remedy(reason));
    }

    /** Adds the problems of a part that was read elsewhere. */
    public void add(List<Problem> found) {
        found.forEach(problem -> problem(problem.field(), problem.given(), problem.allowed(), problem.remedy()));
    }

    /** One line of text without control characters, of at most {@code longest} characters; never repeated in a problem. */
    public Optional<String> text(String field, @Nullable String given, int longest) {
        return written(field, given, longest, Reading::unseen, "one line of text without control characters");
    }

    /** Likewise text that may run over several lines. */
    public Optional<String> lines(String field, @Nullable String given, int longest) {
        return written(field, given, longest, Reading::unseenInLines, "text without control characters");
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
            problem(field, "", "at most " + longest + " characters", "shorten it from " + text.length());
            return Optional.empty();
        }
        if (text.codePoints().anyMatch(refused)) {
            problem(field, "", allowed, "type it again");
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
                "a date from " + first + " to " + last + ", as in 2026-04-14");
    }

    /** Likewise a date of birth; never repeated in a problem. */
    public Optional<LocalDate> dateOfBirth(String field, @Nullable String given, LocalDate first, LocalDate last) {
        Reading own = new Reading();
        Optional<LocalDate> date = own.date(field, given, first, last);
        own.problems().forEach(problem -> problem(field, "", problem.allowed(), problem.remedy()));
        return date;
    }

    /** A time of day as in 09:30. */
    public Optional<LocalTime> time(String field, @Nullable String given) {
        return read(field, given, LocalTime::parse, time -> true, "a time from 00:00 to 23:59, as in 09:30");
    }

    /** A whole number from {@code least} to {@code most}. */
    public Optional<Integer> whole(String field, @Nullable String given, int least, int most) {
        return read(
                field,
                given,
                Integer::valueOf,
                number -> number >= least && number <= most,
                "a whole number from " + least + " to " + most);
    }

    /** One of the words listed, found by {@code find}. */
    public <T> Optional<T> word(
            String field, @Nullable String given, Function<String, Optional<T>> find, List<String> allowed) {
        if (given == null || given.isBlank()) {
            return Optional.empty();
        }
        Optional<T> found = find.apply(given.strip());
        if (found.isEmpty() && !full()) {
            problem(field, given, "one of " + String.join(", ", allowed), "choose one of these");
        }
        return found;
    }

    /** An id. */
    public Optional<UUID> id(String field, @Nullable String given) {
        return read(field, given, UUID::fromString, id -> true, "an id as the program gave it");
    }

    /** Notes that a field that must be given was not (unless it already has a problem). */
    public <T> Optional<T> required(String field, Optional<T> value, String allowed) {
        if (value.isEmpty()
                && problems.stream().noneMatch(problem -> problem.field().equals(field))) {
            problem(field, "", allowed, "fill it in");
        }
        return value;
    }

    private <T extends Object> Optional<T> read(
            String field,
            @Nullable String given,
            Function<String, T> parse,
            Function<T, Boolean> holds,
            String allowed) {
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
        problem(field, given, allowed, "correct it");
        return Optional.empty();
    }
}
