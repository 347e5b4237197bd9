package org.earslot.exchange.mapping;

import java.util.List;
import java.util.Map;

/**
 * What one clinic's spreadsheet means, as a person has confirmed it.
 *
 * @param encoding {@code UTF-8} or {@code windows-1252}
 * @param separator what separates the cells: comma, semicolon or tab
 * @param headings by target, the clinic's own heading; targets are in {@link Targets}
 * @param fixed by target, the value of every line where the file has none
 * @param words by target, what each of the clinic's own words means, lower case to code
 * @param noteWords what words found in the note mean
 */
public record ClinicMapping(
        String encoding,
        String separator,
        DateOrder dates,
        Map<String, String> headings,
        Map<String, String> fixed,
        Map<String, Map<String, String>> words,
        List<NoteWords> noteWords) {

    public ClinicMapping {
        headings = Map.copyOf(headings);
        fixed = Map.copyOf(fixed);
        words = Map.copyOf(words);
        noteWords = List.copyOf(noteWords);
    }

    /** Words in a note that stand for the value of a target. */
    public record NoteWords(String said, String target, String code) {}

    /** The same mapping with other words. */
    public ClinicMapping meaning(Map<String, Map<String, String>> newWords, List<NoteWords> newNoteWords) {
        return new ClinicMapping(encoding, separator, dates, headings, fixed, newWords, newNoteWords);
    }
}
