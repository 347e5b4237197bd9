package org.earslot.ear;

import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * A stored code that this release does not know: of another release, or of a damaged row. It is stored as it is until
 * somebody who knows what it meant has decided on it.
 *
 * @param code as stored
 */
public record UnknownCode(String code) {

    private static final int LONGEST_SHOWN = 40;

    /** Those of {@code codes} that are none of {@code words}, each once, in their order. */
    public static List<UnknownCode> among(Stream<String> codes, Word[] words) {
        return codes.filter(code -> !code.isBlank() && Word.find(words, code).isEmpty())
                .distinct()
                .map(UnknownCode::new)
                .toList();
    }

    /** The codes of words that are known and of those that are not, as a file carries them: with a semicolon between. */
    public static String beside(List<? extends Word> known, List<UnknownCode> unknown) {
        return Stream.concat(known.stream().map(Word::code), unknown.stream().map(UnknownCode::code))
                .collect(Collectors.joining(";"));
    }

    /** The code as it may be shown: printable characters only, at most 40 of them and a mark that it was shortened. */
    public String shown() {
        String printable = code.strip().replaceAll("[^\\p{Graph} ]", "?");
        return printable.length() > LONGEST_SHOWN ? printable.substring(0, LONGEST_SHOWN) + "…" : printable;
    }
}
