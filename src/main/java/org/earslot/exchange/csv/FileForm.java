package org.earslot.exchange.csv;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** How a file is written: its encoding, what separates its cells, and what its headings mean. */
public interface FileForm {

    Charset charset();

    char separator();

    /** Understands the header row of one file. */
    Headed head(List<String> header) throws UnreadableFile;

    /** A file whose headings are understood. */
    interface Headed {

        /** The cells of a row by the format's columns. */
        Cells cells(CsvRow.Whole row);

        /** The columns that are kept out, as the file heads them. */
        List<String> unknown();
    }

    /** The project's own format: UTF-8, commas, the columns by their own names. */
    static FileForm own(List<String> columns, List<String> required) {
        return new FileForm() {
            @Override
            public Charset charset() {
                return StandardCharsets.UTF_8;
            }

            @Override
            public char separator() {
                return ',';
            }

            @Override
            public Headed head(List<String> header) throws UnreadableFile {
                return new CsvHeader(header, columns, required);
            }
        };
    }
}
