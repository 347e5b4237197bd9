package org.earslot.exchange.csv;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;
import java.util.regex.Pattern;
import org.earslot.ear.Word;
import org.earslot.page.SpreadsheetCell;
import org.jspecify.annotations.Nullable;

/**
 * The cells of one row by name, read as values. What cannot be read is noted as a fault and comes back as null (or
 * empty), so that all that is wrong with a row is known at the end; a required value that came back as null is only to
 * be used when {@link #faults()} is empty.
 */
public final class Cells {

    private static final int LONGEST_NAME = 200;
    private static final LocalDate FIRST_DATE = LocalDate.of(1900, 1, 1);
    private static final LocalDate LAST_DATE = LocalDate.of(2199, 12, 31);
    private static final Pattern DATE = Pattern.compile("\\d{4}-\\d{2}-\\d{2}");
    private static final Pattern TIME = Pattern.compile("([01]\\d|2[0-3]):[0-5]\\d");
    private static final Pattern WHOLE = Pattern.compile("\\d{1,9}");

    private final long line;
    private final String raw;
    private final UnaryOperator<String> cellOf;
    private final UnaryOperator<String> headingOf;
    private final List<FieldError> faults = new ArrayList<>();
    private final Set<String> withheld = new HashSet<>();

    /**
     * @param cellOf the cell of a column, empty where there is none
     * @param headingOf how the file heads a column
     */
    public Cells(long line, String raw, UnaryOperator<String> cellOf, UnaryOperator<String> headingOf) {
        this.line = line;
        this.raw = raw;
        this.cellOf = cellOf;
        this.headingOf = headingOf;
    }

    public long line() {
        return line;
    }

    public String raw() {
        return raw;
    }

    /** Everything found wrong so far. */
    public List<FieldError> faults() {
        return List.copyOf(faults);
    }

    /** Notes that something is wrong with {@code column}. */
    public void fault(String column, String reason, String remedy) {
        String value = withheld.contains(column) ? "" : cell(column);
        faults.add(new FieldError(headingOf.apply(column), value, reason, remedy));
    }

    /** Keeps the value of {@code column} out of all faults from now on: the line and the column say enough to find it. */
    Cells withholding(String column) {
        withheld.add(column);
        return this;
    }

    /** The cell without its guard and without blanks around it; empty where nothing stands there. */
    public String cell(String column) {
        return SpreadsheetCell.bare(cellOf.apply(column)).strip();
    }

    /** Free text exactly as it stands, or null where nothing does. */
    public @Nullable String text(String column) {
        String text = SpreadsheetCell.bare(cellOf.apply(column));
        return text.isEmpty() ? null : text;
    }

    /** A name or a reference, or null where nothing stands there. */
    public @Nullable String name(String column) {
        String name = cell(column);
        if (name.length() > LONGEST_NAME) {
            fault(column, "longer than " + LONGEST_NAME + " characters", "shorten it");
            return null;
        }
        return name.isEmpty() ? null : name;
    }

    /** A word of a list, or null where nothing stands there. */
    public <W extends Word> @Nullable W word(String column, W[] words) {
        String code = cell(column);
        return code.isEmpty() ? null : word(column, words, code, ", or leave the cell empty");
    }

    /** A word of a list that must be there. */
    public <W extends Word> @Nullable W requiredWord(String column, W[] words) {
        return word(column, words, cell(column), "");
    }

    /** Words of a list joined by semicolons, in their order. */
    public <W extends Word> List<W> words(String column, W[] words) {
        List<W> known = new ArrayList<>();
        for (String code : cell(column).split(";")) {
            if (!code.isBlank()) {
                W word = word(column, words, code.strip(), ", joined by semicolons");
                if (word == null) {
                    return List.of();
                }
                known.add(word);
            }
        }
        return known;
    }

    private <W extends Word> @Nullable W word(String column, W[] words, String code, String orElse) {
        Optional<W> known = Word.find(words, code);
        if (known.isEmpty()) {
            String reason = code.isEmpty() ? "the cell is empty" : "not a word of this column's list";
            fault(column, reason, "use " + String.join(", ", Word.codes(words)) + orElse);
        }
        return known.orElse(null);
    }

    /** A date, or null where nothing stands there. */
    public @Nullable LocalDate date(String column) {
        String date = cell(column);
        if (date.isEmpty()) {
            return null;
        }
        try {
            LocalDate read = DATE.matcher(date).matches() ? LocalDate.parse(date) : null;
            if (read != null && !read.isBefore(FIRST_DATE) && !read.isAfter(LAST_DATE)) {
                return read;
            }
            String reason = read == null ? "not a date as year-month-day" : "a date out of reason";
            fault(column, reason, "write a date like 2026-04-14, from " + FIRST_DATE + " to " + LAST_DATE);
        } catch (DateTimeException e) {
            fault(column, "there is no such date", "give a date of the calendar");
        }
        return null;
    }

    /** A time of day, or null where nothing stands there. */
    public @Nullable LocalTime time(String column) {
        String time = cell(column);
        if (TIME.matcher(time).matches()) {
            return LocalTime.parse(time);
        }
        if (!time.isEmpty()) {
            fault(
                    column,
                    "not a time of day from 00:00 to 23:59",
                    "write the time like 09:05, or leave the cell empty");
        }
        return null;
    }

    /** A whole number of that range, or null where nothing stands there. */
    public @Nullable Integer whole(String column, int least, int most) {
        String number = cell(column);
        if (number.isEmpty()) {
            return null;
        }
        if (WHOLE.matcher(number).matches()) {
            int value = Integer.parseInt(number);
            if (value >= least && value <= most) {
                return value;
            }
        }
        String range = most == Integer.MAX_VALUE ? " from " + least : " from " + least + " to " + most;
        fault(column, "not a whole number" + range, "write a whole number" + range + ", or leave the cell empty");
        return null;
    }

    /** The value that was read; where the cell is empty, a fault is noted. */
    <T> @Nullable T required(String column, @Nullable T value, String remedy) {
        if (value == null && cell(column).isEmpty()) {
            fault(column, "the cell is empty", remedy);
        }
        return value;
    }
}
