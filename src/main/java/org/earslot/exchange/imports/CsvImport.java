package org.earslot.exchange.imports;

import java.util.List;
import org.earslot.exchange.csv.Cells;

/** What one kind of file needs to go in. The room that keeps the records implements it. */
public interface CsvImport {

    /** The kind of file this takes. */
    ImportKind kind();

    /** The columns of the format. */
    List<String> columns();

    /** The columns without which no line can go in. */
    List<String> required();

    /** The column that names a line in reports. */
    String idColumn();

    /** Begins a run, within its transaction; what becomes of each line is said in {@code taken}. */
    Taking begin(ImportTerms terms, ImportResult taken);

    /** One run: all its lines go in within one transaction, or none does. */
    interface Taking {

        /** Takes the next lines, in their order, and says of each in {@code taken} what became of it. */
        void take(List<Cells> lines);

        /** After the last line, still within the transaction. */
        void finish();

        /** After the transaction has been committed; not called for a dry run. */
        void committed(long accepted);
    }
}
