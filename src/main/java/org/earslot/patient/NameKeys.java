package org.earslot.patient;

import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * What a name is looked up by in the database. Two spellings one slip apart share a key, save for some slips in names of
 * three letters or fewer; two slips apart they mostly do. That two names share a key says little: {@link Spelling} judges.
 *
 * @param start the first two letters
 * @param end the last two letters
 * @param sound its consonants, those that sound alike taken as one, each once and in order of the alphabet, so that
 *     letters exchanged, doubled or silent change nothing (the project's own rule)
 */
record NameKeys(String start, String end, String sound) {

    /** Of these keys and of {@link SearchText}: rebuilt if a record's are of another version. */
    static final int VERSION = 2;

    private static final int ENDS = 2;

    /** The keys of a name; empty where it has no letter. */
    static Optional<NameKeys> of(@Nullable String name) {
        int[] letters =
                name == null ? new int[0] : Spelling.plain(name).codePoints().toArray();
        if (letters.length == 0) {
            return Optional.empty();
        }
        int kept = Math.min(ENDS, letters.length);
        return Optional.of(new NameKeys(
                new String(letters, 0, kept),
                new String(letters, letters.length - kept, kept),
                sound(new String(letters, 0, letters.length))));
    }

    private static String sound(String plain) {
        String alike = plain.replace("ph", "f").replace("x", "ks").replaceAll("c(?=[eiy])", "s");
        String consonants = alike.codePoints()
                .map(NameKeys::stands)
                .filter(letter -> letter != 0)
                .sorted()
                .distinct()
                .mapToObj(Character::toString)
                .collect(Collectors.joining());
        return consonants.isEmpty() ? "-" : consonants;
    }

    /** The letter that stands for those that sound like it; 0 for vowels and for what is often silent. */
    private static int stands(int letter) {
        return switch (letter) {
            case 'a', 'e', 'i', 'o', 'u', 'y', 'h', 'w' -> 0;
            case 'c', 'g', 'q' -> 'k';
            case 'd' -> 't';
            case 'b' -> 'p';
            case 'v' -> 'f';
            case 'z' -> 's';
            default -> letter;
        };
    }
}
