package org.earslot.exchange.mapping;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.CsvRow;
import org.earslot.exchange.csv.MalformedRow;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.exchange.imports.Upload;
import org.earslot.page.SpreadsheetCell;
import org.jspecify.annotations.Nullable;

/** A look at a spreadsheet before anything of it goes in: how it is written, its headings, and how often its words occur. */
public final class SampleRows {

    /** Of a column no more different values are counted than this; a column with more holds no words of a list. */
    private static final int MOST_VALUES = 400;

    private static final Charset WINDOWS = Charset.forName("windows-1252");

    private final Charset charset;
    private final char separator;
    private final List<String> headings;
    private final List<Map<String, Integer>> counts = new ArrayList<>();
    private long rows;

    private SampleRows(Charset charset, char separator, List<String> headings) {
        this.charset = charset;
        this.separator = separator;
        this.headings = headings;
        headings.forEach(heading -> counts.add(new LinkedHashMap<>()));
    }

    /** A word of the file, and in how many lines it occurs. */
    public record Counted(String own, int times) {}

    /** Reads the file once, in whichever of the two encodings it is written. */
    public static SampleRows look(Upload upload) throws IOException, UnreadableFile {
        char separator = separator(upload);
        @Nullable SampleRows sheet = null;
        try {
            sheet = read(upload, StandardCharsets.UTF_8, separator);
        } catch (UnreadableFile e) {
            // The header may be what is not UTF-8; the other encoding tells.
        }
        if (sheet == null) {
            sheet = read(upload, WINDOWS, separator);
        }
        return Objects.requireNonNull(sheet, "only UTF-8 gives up on a wrong byte");
    }

    private static @Nullable SampleRows read(Upload upload, Charset charset, char separator)
            throws IOException, UnreadableFile {
        try (InputStream in = upload.open()) {
            CsvReader reader = new CsvReader(in, charset, separator);
            SampleRows sheet = new SampleRows(
                    charset, separator, MappedForm.names(reader.header().cells()));
            for (CsvRow row = reader.next(); row != null; row = reader.next()) {
                if (row instanceof CsvRow.Whole whole) {
                    sheet.count(whole.cells());
                } else if (charset.equals(StandardCharsets.UTF_8)
                        && row instanceof CsvRow.Broken broken
                        && broken.breakage() == MalformedRow.NOT_THE_ENCODING) {
                    return null;
                }
            }
            return sheet;
        }
    }

    /** What the first line holds most of. */
    private static char separator(Upload upload) throws IOException {
        try (InputStream in = upload.open()) {
            String start = new String(in.readNBytes(8192), WINDOWS);
            String header = start.lines().findFirst().orElse("");
            return List.of(',', ';', '\t').stream()
                    .max(Comparator.comparingLong(
                            c -> header.chars().filter(x -> x == c).count()))
                    .orElse(',');
        }
    }

    private void count(List<String> cells) {
        rows++;
        for (int i = 0; i < cells.size(); i++) {
            Map<String, Integer> values = counts.get(i);
            String own = HeadingSynonym.plain(SpreadsheetCell.bare(cells.get(i)));
            if (!own.isEmpty() && (values.size() <= MOST_VALUES || values.containsKey(own))) {
                values.merge(own, 1, Integer::sum);
            }
        }
    }

    /** The name of the encoding. */
    public String encoding() {
        return charset.name();
    }

    /** What separates the cells, as a word: comma, semicolon or tab. */
    public String separatorName() {
        return separator == ',' ? "comma" : separator == ';' ? "semicolon" : "tab";
    }

    public char separator() {
        return separator;
    }

    /** The headings, each with a name of its own. */
    public List<String> headings() {
        return headings;
    }

    public long rows() {
        return rows;
    }

    /** A few values of a column, as examples. */
    public List<String> examples(String heading) {
        return values(heading).keySet().stream().limit(3).toList();
    }

    /** The different values of a column, most frequent first; none where they are too many to be words of a list. */
    public List<Counted> words(String heading) {
        Map<String, Integer> values = values(heading);
        return values.size() > MOST_VALUES
                ? List.of()
                : values.entrySet().stream()
                        .map(entry -> new Counted(entry.getKey(), entry.getValue()))
                        .sorted(Comparator.comparing(Counted::times).reversed())
                        .toList();
    }

    private Map<String, Integer> values(String heading) {
        return counts.get(headings.indexOf(heading));
    }
}
