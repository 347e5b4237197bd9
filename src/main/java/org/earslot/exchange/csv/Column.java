package org.earslot.exchange.csv;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * A column of a format: what it is called, what its cells hold and which part of a line it carries. A format is an enum
 * of these, in the order in which they are written.
 *
 * @param <L> the lines of the format
 */
public interface Column<L> {

    /** What the column is made of. */
    Part<L> part();

    /**
     * What a column is made of.
     *
     * @param heading what it is called in files
     * @param type what its cells hold
     * @param value the value that a line has in it
     * @param cell the cell that a line has in it
     */
    record Part<L>(String heading, CellType<?> type, Function<L, @Nullable Object> value, Function<L, String> cell) {

        /** @param name of the constant; the heading is the same in small letters */
        public static <L, T> Part<L> of(String name, CellType<T> type, Function<L, @Nullable T> value) {
            return new Part<>(name.toLowerCase(Locale.ROOT), type, value::apply, line -> type.write(value.apply(line)));
        }
    }

    /** What the column is called in files. */
    default String heading() {
        return part().heading();
    }

    /** What its cells hold. */
    default CellType<?> type() {
        return part().type();
    }

    /** The value that a line has in the column. */
    default @Nullable Object value(L line) {
        return part().value().apply(line);
    }

    /** The cell that a line has in the column. */
    default String cell(L line) {
        return part().cell().apply(line);
    }

    /**
     * The value of the column in a row, or null where there is none or it cannot be read, which is then noted as a fault.
     *
     * @param <T> the type of the part of the line that the column carries
     */
    @SuppressWarnings("unchecked")
    default <T> @Nullable T read(Cells cells) {
        return (T) type().read(cells, heading());
    }

    /** The headings of all columns. */
    static List<String> headings(Column<?>... columns) {
        return Arrays.stream(columns).map(Column::heading).toList();
    }

    /** The headings of the columns without which no line can go in. */
    static List<String> required(Column<?>... columns) {
        return Arrays.stream(columns)
                .filter(column -> column.type().isRequired())
                .map(Column::heading)
                .toList();
    }

    /** The cells of a line. */
    static <L> List<String> cells(L line, List<? extends Column<L>> columns) {
        return columns.stream().map(column -> column.cell(line)).toList();
    }
}
