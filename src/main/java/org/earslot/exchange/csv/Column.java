package org.earslot.exchange.csv;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A column of a format: what it is called, what its cells hold and which part of a line it carries. A format is an enum
 * of these, in the order in which they are written.
 *
 * @param <L> the lines of the format
 */
public interface Column<L> {

    /** What the column is called in files. */
    String heading();

    /** What its cells hold. */
    CellType<?> type();

    /** The value that a line has in the column. */
    @Nullable
    Object value(L line);

    /** The cell that a line has in the column. */
    String cell(L line);

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
}
