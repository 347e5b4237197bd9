package org.earslot.aftercare.web;

import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.earslot.aftercare.LetterKind;
import org.earslot.aftercare.LetterKind.About;

/**
 * What surrounds the text of every letter.
 *
 * @param sender the clinic's name
 * @param reached where and when the clinic is reached, line by line
 * @param addressee name and address of the patient, line by line; empty where the text itself says whom it is to
 * @param addressKnown whether more is known than the name
 * @param signers who signs, line by line
 */
public record LetterFrame(
        String sender,
        List<String> reached,
        List<String> addressee,
        boolean addressKnown,
        String date,
        List<String> signers) {

    /** @param known the fields of the letter */
    public static LetterFrame of(LetterKind kind, Map<String, String> known) {
        String home = known.getOrDefault("home", "");
        String person = known.getOrDefault(kind == LetterKind.NOT_BROUGHT ? "carer" : "patient", "");
        String clinic = known.getOrDefault("clinic", "");
        return new LetterFrame(
                clinic,
                lines(
                        known.getOrDefault("address", ""),
                        known.getOrDefault("phone", ""),
                        known.getOrDefault("hours", "")),
                kind.toPatient() ? lines(person, home) : List.of(),
                !home.isBlank(),
                known.getOrDefault("today", ""),
                kind.about() == About.VISIT ? lines(known.getOrDefault("practitioner", ""), clinic) : List.of(clinic));
    }

    private static List<String> lines(String... texts) {
        return Stream.of(texts)
                .flatMap(String::lines)
                .map(String::strip)
                .filter(line -> !line.isEmpty())
                .toList();
    }
}
