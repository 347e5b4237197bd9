package org.earslot.exchange;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.apache.commons.codec.digest.DigestUtils;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.csv.CsvHeader;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.CsvRow;
import org.earslot.exchange.csv.FieldError;
import org.earslot.exchange.csv.UnreadableFile;
import org.jspecify.annotations.Nullable;

/** Reads a visit log line by line, without a database: what is stored and what is only looked at goes by the same rules. */
public final class VisitLog {

    private VisitLog() {}

    /** A line that cannot be used, with all that is wrong with it. */
    public record Rejected(long line, String visitRef, String raw, List<FieldError> faults) {}

    /** How many lines there were, and what became of them. */
    public record Counts(long lines, long accepted, long repeats, long rejected) {}

    /**
     * Reads the whole log. The same id with the same content again is passed over and counted; with other content it is
     * rejected. Holds the ids and a hash of each line, not the lines.
     *
     * @param zone the clinic's, for the hour that the clocks skip in spring
     */
    public static Counts read(InputStream in, ZoneId zone, Consumer<VisitLine> accepted, Consumer<Rejected> rejected)
            throws IOException, UnreadableFile {
        CsvReader reader = new CsvReader(in);
        CsvHeader header =
                new CsvHeader(reader.header().cells(), VisitColumn.headings(), VisitColumn.requiredHeadings());
        Map<String, String> known = new HashMap<>();
        long lines = 0;
        long good = 0;
        long repeats = 0;
        for (CsvRow row = reader.next(); row != null; row = reader.next()) {
            lines++;
            if (row instanceof CsvRow.Broken broken) {
                rejected.accept(new Rejected(
                        row.line(), "", row.raw(), List.of(broken.breakage().fault())));
                continue;
            }
            Cells cells = header.cells((CsvRow.Whole) row);
            Optional<VisitLine> line = VisitLine.read(cells, zone);
            @Nullable
            String hash = line.map(read -> hash(VisitColumn.cells(read))).orElse(null);
            @Nullable
            String before = line.map(VisitLine::visitRef).map(known::get).orElse(null);
            if (before != null && before.equals(hash)) {
                repeats++;
            } else if (line.isEmpty() || before != null) {
                rejected.accept(rejected(cells, before != null));
            } else {
                known.put(line.get().visitRef(), String.valueOf(hash));
                accepted.accept(line.get());
                good++;
            }
        }
        return new Counts(lines, good, repeats, lines - good - repeats);
    }

    private static Rejected rejected(Cells cells, boolean otherContent) {
        if (otherContent) {
            noteOtherContent(cells);
        }
        return new Rejected(cells.line(), cells.cell(VisitColumn.VISIT_ID.heading()), cells.raw(), cells.faults());
    }

    /** Notes that the id is known with other content. */
    static void noteOtherContent(Cells cells) {
        cells.fault(
                VisitColumn.VISIT_ID.heading(),
                "a visit with this id and other content is there already",
                "give the visit an id of its own, or send the file again with \"update\" to replace what is there");
    }

    /** Names a content: equal for equal cells. */
    static String hash(List<String> cells) {
        MessageDigest digest = DigestUtils.getSha256Digest();
        for (String cell : cells) {
            digest.update(cell.getBytes(StandardCharsets.UTF_8));
            digest.update((byte) 0);
        }
        return HexFormat.of().formatHex(digest.digest());
    }
}
