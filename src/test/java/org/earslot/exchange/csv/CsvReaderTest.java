package org.earslot.exchange.csv;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.earslot.page.CsvWriter;
import org.earslot.page.SpreadsheetCell;
import org.junit.jupiter.api.Test;

class CsvReaderTest {

    @Test
    void reads_cells_with_commas_quotes_and_line_ends_in_them() throws Exception {
        List<CsvRow> rows = rows("\uFEFFa,b,c\r\n1,\"said \"\"fine, thanks\"\",\r\nwill ring\",\r\n2,,\"\"\n3,x,y");
        assertThat(rows)
                .containsExactly(
                        new CsvRow.Whole(
                                2,
                                "1,\"said \"\"fine, thanks\"\",\r\nwill ring\",",
                                List.of("1", "said \"fine, thanks\",\r\nwill ring", "")),
                        new CsvRow.Whole(4, "2,,\"\"", List.of("2", "", "")),
                        new CsvRow.Whole(5, "3,x,y", List.of("3", "x", "y")));
    }

    @Test
    void keeps_the_lines_after_a_quote_that_nothing_closes() throws Exception {
        List<CsvRow> rows = rows("a,b\n1,\"open\n2,x\n3,\"closed, well\"\n4,y\n");
        assertThat(rows)
                .containsExactly(
                        new CsvRow.Broken(2, "1,\"open", MalformedRow.OPEN_QUOTE),
                        new CsvRow.Whole(3, "2,x", List.of("2", "x")),
                        new CsvRow.Whole(4, "3,\"closed, well\"", List.of("3", "closed, well")),
                        new CsvRow.Whole(5, "4,y", List.of("4", "y")));
    }

    @Test
    void keeps_the_lines_after_an_open_quote_at_the_end_of_the_file() throws Exception {
        assertThat(rows("a,b\n1,\"open\n2,x\n3,y"))
                .extracting(CsvRow::line, row -> row instanceof CsvRow.Whole)
                .containsExactly(tuple(2L, false), tuple(3L, true), tuple(4L, true));
    }

    @Test
    void hands_out_lines_with_too_few_or_too_many_cells() throws Exception {
        assertThat(rows("a,b\n1\n1,2,3\n1,2,,\n"))
                .containsExactly(
                        new CsvRow.Broken(2, "1", MalformedRow.FIELD_COUNT),
                        new CsvRow.Broken(3, "1,2,3", MalformedRow.FIELD_COUNT),
                        new CsvRow.Whole(4, "1,2,,", List.of("1", "2")));
    }

    @Test
    void takes_a_quote_within_a_plain_cell_for_itself() throws Exception {
        assertThat(rows("a,b\n1,5\" probe\n"))
                .containsExactly(new CsvRow.Whole(2, "1,5\" probe", List.of("1", "5\" probe")));
    }

    @Test
    void hands_out_text_after_a_closing_quote_wrong_bytes_and_zero_characters() throws Exception {
        ByteArrayOutputStream file = new ByteArrayOutputStream();
        file.write("a,b\n1,\"x\"y\n".getBytes(StandardCharsets.UTF_8));
        file.write("2,caf\u00e9\n".getBytes(StandardCharsets.ISO_8859_1));
        file.write("3,z\0\n4,caf\u00e9\n".getBytes(StandardCharsets.UTF_8));
        assertThat(rows(new ByteArrayInputStream(file.toByteArray())))
                .containsExactly(
                        new CsvRow.Broken(2, "1,\"x\"y", MalformedRow.TEXT_AFTER_QUOTE),
                        new CsvRow.Broken(3, "2,caf\u00e9", MalformedRow.NOT_THE_ENCODING),
                        new CsvRow.Broken(4, "3,z\uFFFD", MalformedRow.NUL),
                        new CsvRow.Whole(5, "4,caf\u00e9", List.of("4", "caf\u00e9")));
    }

    @Test
    void hands_out_a_line_that_is_too_long_without_keeping_it() throws Exception {
        String longNote = "n".repeat(3_000_000);
        List<CsvRow> rows = rows("a,b\n1," + longNote + "\n2,x\n");
        assertThat(rows.get(0)).isInstanceOfSatisfying(CsvRow.Broken.class, broken -> {
            assertThat(broken.breakage()).isEqualTo(MalformedRow.TOO_LONG);
            assertThat(broken.raw()).hasSize(FileLines.LONGEST);
        });
        assertThat(rows.get(1)).isEqualTo(new CsvRow.Whole(3, "2,x", List.of("2", "x")));
    }

    @Test
    void passes_over_empty_lines_but_counts_them() throws Exception {
        assertThat(rows("a,b\n\n,\n1,2\n")).containsExactly(new CsvRow.Whole(4, "1,2", List.of("1", "2")));
    }

    @Test
    void reads_semicolons_and_the_windows_code_page_when_told() throws Exception {
        Charset windows = Charset.forName("windows-1252");
        InputStream in = new ByteArrayInputStream("a;b\n1;caf\u00e9, \u20ac\n".getBytes(windows));
        CsvReader reader = new CsvReader(in, windows, ';');
        reader.header();
        assertThat(reader.next())
                .isEqualTo(new CsvRow.Whole(2, "1;caf\u00e9, \u20ac", List.of("1", "caf\u00e9, \u20ac")));
    }

    @Test
    void refuses_an_empty_file_and_utf_16() {
        assertThatThrownBy(() -> rows("")).isInstanceOf(UnreadableFile.class).hasMessageContaining("empty");
        assertThatThrownBy(() -> rows(new ByteArrayInputStream("a,b\n".getBytes(StandardCharsets.UTF_16))))
                .isInstanceOf(UnreadableFile.class)
                .hasMessageContaining("UTF-16");
    }

    @Test
    void refuses_a_header_with_missing_and_doubled_columns_and_names_them_all() {
        assertThatThrownBy(() -> new CsvHeader(List.of("x", "b", "b"), List.of("a", "b", "c"), List.of("a", "c")))
                .isInstanceOfSatisfying(
                        UnreadableFile.class,
                        refused -> assertThat(refused.faults())
                                .extracting(FieldError::column)
                                .containsExactly("b", "a", "c"));
    }

    @Test
    void reads_back_whatever_is_written() throws Exception {
        Random random = new Random(20260303);
        for (int round = 0; round < 300; round++) {
            List<List<String>> table = new ArrayList<>();
            for (int row = 0; row < 5; row++) {
                table.add(List.of("x" + anyText(random), anyText(random), "y" + anyText(random)));
            }
            StringBuilder out = new StringBuilder("a,b,c\r\n");
            for (List<String> row : table) {
                new CsvWriter(out).write(row);
            }
            List<List<String>> back = new ArrayList<>();
            for (CsvRow row : rows(out.toString())) {
                back.add(((CsvRow.Whole) row)
                        .cells().stream().map(SpreadsheetCell::bare).toList());
            }
            assertThat(back).isEqualTo(table);
        }
    }

    @Test
    void guards_formulas_and_takes_the_guard_off_again() {
        for (String text :
                List.of("=2+5", "+1", "-1", "@a", "\t=2+5", "\r=2+5", "\n=2+5", "'\t", "''=", "'tis", "", "a=1")) {
            String guarded = SpreadsheetCell.guarded(text);
            assertThat(guarded).doesNotStartWith("\t").doesNotStartWith("\r").doesNotStartWith("\n");
            assertThat("=+-@").doesNotContain(guarded.isEmpty() ? "none" : guarded.substring(0, 1));
            assertThat(SpreadsheetCell.bare(guarded)).isEqualTo(text);
        }
        assertThat(SpreadsheetCell.guarded("=2+5")).isEqualTo("'=2+5");
        assertThat(SpreadsheetCell.guarded("'=2+5")).isEqualTo("''=2+5");
        assertThat(SpreadsheetCell.guarded("'tis")).isEqualTo("'tis");
        assertThat(SpreadsheetCell.bare("'=2+5")).isEqualTo("=2+5");
        assertThat(SpreadsheetCell.bare("=2+5")).isEqualTo("=2+5");
        assertThat(SpreadsheetCell.bare("'tis")).isEqualTo("'tis");
    }

    private static String anyText(Random random) {
        String alphabet = "ab,\"\n\r;'=+-@ \u00e9\u4e2d\ud83d\ude00";
        StringBuilder text = new StringBuilder();
        int[] letters = alphabet.codePoints().toArray();
        for (int left = random.nextInt(8); left > 0; left--) {
            text.appendCodePoint(letters[random.nextInt(letters.length)]);
        }
        return text.toString();
    }

    private static List<CsvRow> rows(String file) throws IOException, UnreadableFile {
        return rows(new ByteArrayInputStream(file.getBytes(StandardCharsets.UTF_8)));
    }

    private static List<CsvRow> rows(InputStream file) throws IOException, UnreadableFile {
        CsvReader reader = new CsvReader(file);
        reader.header();
        List<CsvRow> rows = new ArrayList<>();
        for (CsvRow row = reader.next(); row != null; row = reader.next()) {
            rows.add(row);
        }
        return rows;
    }
}
