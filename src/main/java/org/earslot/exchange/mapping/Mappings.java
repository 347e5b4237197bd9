package org.earslot.exchange.mapping;

import java.io.IOException;
import java.io.InputStream;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.clinic.ClinicId;
import org.earslot.exchange.csv.CsvReader;
import org.earslot.exchange.csv.CsvRow;
import org.earslot.exchange.csv.UnreadableFile;
import org.earslot.exchange.imports.ImportKind;
import org.earslot.exchange.imports.Upload;
import org.earslot.page.SpreadsheetCell;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/** The mapping of each clinic, kept for next time, and the guesses for a first one. */
@Component
public class Mappings {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final JdbcTemplate jdbc;

    Mappings(JdbcTemplate jdbc) {
        this.jdbc = jdbc;
    }

    /** The clinic's mapping, if one was kept and can still be read. */
    public Optional<ClinicMapping> of(ClinicId clinicId) {
        return jdbc
                .queryForList(
                        "select mapping from import_mapping where clinic_id = ? and kind = ?",
                        String.class,
                        clinicId.value(),
                        ImportKind.VISIT_LOG.code())
                .stream()
                .findFirst()
                .flatMap(this::read);
    }

    private Optional<ClinicMapping> read(String kept) {
        try {
            return Optional.of(JSON.readValue(kept, ClinicMapping.class));
        } catch (JacksonException e) {
            return Optional.empty();
        }
    }

    /** Keeps the mapping in the place of the one before. */
    @Transactional
    public void store(ClinicId clinicId, ClinicMapping mapping) {
        String kind = ImportKind.VISIT_LOG.code();
        jdbc.update("delete from import_mapping where clinic_id = ? and kind = ?", clinicId.value(), kind);
        jdbc.update(
                "insert into import_mapping (clinic_id, kind, mapping) values (?, ?, ?)",
                clinicId.value(),
                kind,
                JSON.writeValueAsString(mapping));
    }

    /** What the headings mean: as kept where the file still has them, else guessed. */
    public ClinicMapping headings(ClinicId clinicId, SampleRows sheet) {
        Optional<ClinicMapping> kept = of(clinicId);
        Map<String, String> headings = new LinkedHashMap<>();
        boolean known = kept.isPresent()
                && sheet.headings().containsAll(kept.get().headings().values());
        for (String target : Targets.all()) {
            Optional<String> guess = known
                    ? Optional.ofNullable(kept.get().headings().get(target))
                    : Guesses.heading(target, sheet.headings()).filter(heading -> !headings.containsValue(heading));
            guess.ifPresent(heading -> headings.put(target, heading));
        }
        return new ClinicMapping(
                sheet.encoding(),
                String.valueOf(sheet.separator()),
                kept.map(ClinicMapping::dates).orElse(DateOrder.DAY_FIRST),
                headings,
                kept.map(ClinicMapping::fixed).orElse(Map.of()),
                kept.map(ClinicMapping::words).orElse(Map.of()),
                kept.map(ClinicMapping::noteWords).orElse(List.of()));
    }

    /** What a word in a column of that target mostly means. */
    public Optional<String> meaning(String target, String own) {
        return Guesses.meaning(target, own);
    }

    /**
     * The words in the notes that may say something: those confirmed before, then those guessed that occur, each with the
     * number of lines that hold it.
     */
    public Map<ClinicMapping.NoteWords, Integer> inNotes(Upload upload, ClinicMapping mapping)
            throws IOException, UnreadableFile {
        Map<ClinicMapping.NoteWords, HeadingSynonym> phrases = new LinkedHashMap<>();
        mapping.noteWords().forEach(words -> phrases.put(words, new HeadingSynonym(words.said())));
        Guesses.inNotes().forEach(words -> phrases.put(words, new HeadingSynonym(words.said())));
        Map<ClinicMapping.NoteWords, Integer> counts = new LinkedHashMap<>();
        mapping.noteWords().forEach(words -> counts.put(words, 0));
        String heading = mapping.headings().get("note");
        if (heading == null) {
            return counts;
        }
        MappedForm form = new MappedForm(mapping);
        try (InputStream in = upload.open()) {
            CsvReader reader = new CsvReader(in, form.charset(), form.separator());
            int column = MappedForm.names(reader.header().cells()).indexOf(heading);
            for (CsvRow row = reader.next(); row != null && column >= 0; row = reader.next()) {
                if (row instanceof CsvRow.Whole whole) {
                    String note = HeadingSynonym.plain(
                            SpreadsheetCell.bare(whole.cells().get(column)));
                    phrases.forEach((words, phrase) -> {
                        if (phrase.isIn(note)) {
                            counts.merge(words, 1, Integer::sum);
                        }
                    });
                }
            }
        }
        return counts;
    }
}
