package org.earslot.exchange.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.ear.Word;
import org.earslot.exchange.mapping.ClinicMapping;
import org.earslot.exchange.mapping.Mappings;
import org.earslot.exchange.mapping.SampleRows;
import org.earslot.exchange.mapping.Targets;
import org.earslot.page.Messages;
import org.springframework.util.MultiValueMap;

/**
 * The second step of a mapping: each word of the clinic's own with how often it occurs and what it is guessed to mean. A
 * guess counts only once it is confirmed.
 */
final class WordsForm {

    private static final int BLANK_ROWS = 3;
    private static final int LONGEST = 200;

    private final List<Row> words;
    private final List<Row> inNotes;

    private WordsForm(List<Row> words, List<Row> inNotes) {
        this.words = words;
        this.inNotes = inNotes;
    }

    /**
     * One word.
     *
     * @param times in how many lines it occurs; -1 in a row for words not yet named
     * @param meaning the code; empty where there is no guess
     */
    record Row(String target, String own, int times, String meaning, boolean confirmed) {}

    static WordsForm of(
            ClinicMapping mapping, SampleRows sheet, Mappings guesses, Map<ClinicMapping.NoteWords, Integer> notes) {
        List<Row> words = new ArrayList<>();
        for (String target : Targets.all()) {
            String heading = mapping.headings().get(target);
            if (heading != null && !Targets.words(target).isEmpty()) {
                sheet.words(heading)
                        .forEach(counted ->
                                row(mapping, guesses, target, counted).ifPresent(words::add));
            }
        }
        List<Row> inNotes = new ArrayList<>();
        notes.forEach((said, times) -> inNotes.add(new Row(
                said.target(),
                said.said(),
                times,
                said.code(),
                mapping.noteWords().contains(said))));
        if (mapping.headings().containsKey("note")) {
            for (int i = 0; i < BLANK_ROWS; i++) {
                inNotes.add(new Row("", "", -1, "", false));
            }
        }
        return new WordsForm(words, inNotes);
    }

    /** A row for a word; none for a word that is written as the log itself writes it. */
    private static Optional<Row> row(
            ClinicMapping mapping, Mappings guesses, String target, SampleRows.Counted counted) {
        if (Targets.words(target).stream().anyMatch(word -> word.code().equals(counted.own()))) {
            return Optional.empty();
        }
        String kept = mapping.words().getOrDefault(target, Map.of()).get(counted.own());
        String meaning =
                kept != null ? kept : guesses.meaning(target, counted.own()).orElse("");
        return Optional.of(new Row(target, counted.own(), counted.times(), meaning, kept != null));
    }

    public List<Row> words() {
        return words;
    }

    public List<Row> inNotes() {
        return inNotes;
    }

    public List<Word> meanings(String target) {
        return Targets.words(target);
    }

    /** The message that names a word. */
    public String key(Word word) {
        return Messages.key(word);
    }

    /** The mapping with what was confirmed; whatever is not ticked, or has no meaning, is left out. */
    static ClinicMapping confirmed(MultiValueMap<String, String> given, ClinicMapping mapping) {
        Map<String, String> values = given.toSingleValueMap();
        Map<String, Map<String, String>> words = new HashMap<>();
        List<ClinicMapping.NoteWords> notes = new ArrayList<>();
        for (int i = 0; values.containsKey("word." + i + ".own"); i++) {
            String row = "word." + i + ".";
            String target = values.getOrDefault(row + "target", "");
            String meaning = values.getOrDefault(row + "meaning", "");
            if (values.containsKey(row + "confirmed") && isOf(target, meaning)) {
                words.computeIfAbsent(target, any -> new LinkedHashMap<>()).put(values.get(row + "own"), meaning);
            }
        }
        for (int i = 0; values.containsKey("note." + i + ".own"); i++) {
            String row = "note." + i + ".";
            String said = values.getOrDefault(row + "own", "").strip();
            String[] meaning = values.getOrDefault(row + "meaning", "").split("=", 2);
            boolean whole = meaning.length == 2 && isOf(meaning[0], meaning[1]);
            if (values.containsKey(row + "confirmed") && whole && !said.isEmpty() && said.length() <= LONGEST) {
                notes.add(new ClinicMapping.NoteWords(said, meaning[0], meaning[1]));
            }
        }
        return mapping.meaning(words, notes);
    }

    private static boolean isOf(String target, String code) {
        return Targets.words(target).stream().anyMatch(word -> word.code().equals(code));
    }
}
