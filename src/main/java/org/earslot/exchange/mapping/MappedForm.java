package org.earslot.exchange.mapping;

import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.earslot.exchange.csv.Cells;
import org.earslot.exchange.csv.CsvRow;
import org.earslot.exchange.csv.FieldError;
import org.earslot.exchange.csv.FileForm;
import org.earslot.exchange.csv.RejectedColumns;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.page.SpreadsheetCell;

/** Reads a clinic's own spreadsheet by its mapping, as if it were a visit log. */
public final class MappedForm implements FileForm {

    private static final String SEVERAL = "\\s*(?:[;,/+&]|\\band\\b|\\bthen\\b)\\s*";

    private final ClinicMapping mapping;
    private final Map<ClinicMapping.NoteWords, HeadingSynonym> phrases = new HashMap<>();

    public MappedForm(ClinicMapping mapping) {
        this.mapping = mapping;
        mapping.noteWords().forEach(words -> phrases.put(words, new HeadingSynonym(words.said())));
    }

    @Override
    public Charset charset() {
        return Charset.forName(mapping.encoding());
    }

    @Override
    public char separator() {
        return mapping.separator().charAt(0);
    }

    /** The headings as they are shown and chosen: each has a name of its own. */
    static List<String> names(List<String> header) {
        List<String> names = new ArrayList<>();
        for (int i = 0; i < header.size(); i++) {
            String heading = SpreadsheetCell.bare(header.get(i)).strip();
            String name = heading.isEmpty() ? "column " + (i + 1) : heading;
            String once = name;
            for (int n = 2; names.contains(once); n++) {
                once = name + " (" + n + ")";
            }
            names.add(once);
        }
        return names;
    }

    @Override
    public Headed head(List<String> header) throws UnreadableFile {
        List<String> names = names(header);
        List<FieldError> faults = new ArrayList<>();
        mapping.headings().forEach((target, heading) -> {
            if (!names.contains(heading)) {
                faults.add(new FieldError(
                        heading, "", "the file has no such column, mapped to " + target, "map the headings anew"));
            }
        });
        if (!faults.isEmpty()) {
            throw new UnreadableFile(faults);
        }
        return new MappedRows(names);
    }

    private final class MappedRows implements Headed {

        private final List<String> names;

        MappedRows(List<String> names) {
            this.names = names;
        }

        @Override
        public Cells cells(CsvRow.Whole row) {
            Map<String, String> read = new HashMap<>();
            String note = HeadingSynonym.plain(own(row, "note"));
            return new Cells(
                    row.line(),
                    row.raw(),
                    column -> read.computeIfAbsent(column, wanted -> cell(row, note, wanted)),
                    column -> mapping.headings().getOrDefault(column, heading(column)));
        }

        @Override
        public List<String> unknown() {
            return names.stream()
                    .filter(name -> !mapping.headings().containsValue(name) && !RejectedColumns.NAMES.contains(name))
                    .toList();
        }

        private String heading(String column) {
            return Targets.treated(column).map(mapping.headings()::get).orElse(column);
        }

        private String cell(CsvRow.Whole row, String note, String column) {
            String direct = value(row, note, column);
            if (!direct.isEmpty()) {
                return direct;
            }
            if (column.equals("visit_id")) {
                return madeId(row, note);
            }
            String ears = value(row, note, "ears");
            return Targets.treated(column)
                    .filter(treated -> ears.equals("both") || column.startsWith(ears + "_"))
                    .map(treated -> value(row, note, treated))
                    .orElse("");
        }

        /** An id of what does not change, so that the same file sent again holds the same ids. */
        private String madeId(CsvRow.Whole row, String note) {
            String start = value(row, note, "booked_start");
            String time = start.isEmpty() ? value(row, note, "called_in") : start;
            String id = value(row, note, "date") + "/" + value(row, note, "patient_ref");
            return time.isEmpty() ? id : id + "/" + time;
        }

        private String value(CsvRow.Whole row, String note, String target) {
            String own = own(row, target);
            if (!own.isBlank()) {
                return translated(target, own);
            }
            Set<String> said = new LinkedHashSet<>();
            phrases.forEach((words, phrase) -> {
                if (words.target().equals(target) && phrase.isIn(note)) {
                    said.add(words.code());
                }
            });
            if (said.isEmpty()) {
                return mapping.fixed().getOrDefault(target, "");
            }
            return Targets.holdsSeveral(target)
                    ? String.join(";", said)
                    : said.iterator().next();
        }

        private String own(CsvRow.Whole row, String target) {
            String heading = mapping.headings().get(target);
            return heading == null ? "" : row.cells().get(names.indexOf(heading));
        }
    }

    private String translated(String target, String own) {
        String bare = SpreadsheetCell.bare(own);
        return switch (Targets.type(target).shape()) {
            case DATE -> OwnForms.date(bare.strip(), mapping.dates());
            case TIME -> OwnForms.time(bare.strip());
            case WHOLE -> OwnForms.minutes(bare.strip());
            case WORD, WORDS -> words(target, bare.strip());
            case TEXT -> own;
        };
    }

    private String words(String target, String own) {
        Map<String, String> meant = mapping.words().getOrDefault(target, Map.of());
        String whole = meant.get(HeadingSynonym.plain(own));
        if (whole != null) {
            return whole;
        }
        if (!Targets.holdsSeveral(target)) {
            return word(own);
        }
        return Arrays.stream(own.split(SEVERAL))
                .filter(part -> !part.isBlank())
                .map(part -> meant.getOrDefault(HeadingSynonym.plain(part), word(part)))
                .collect(Collectors.joining(";"));
    }

    /** A word of the list written as people write it: "Very narrow" is very_narrow. */
    private static String word(String own) {
        return own.strip().toLowerCase(Locale.ROOT).replaceAll("[\\s-]+", "_");
    }
}
