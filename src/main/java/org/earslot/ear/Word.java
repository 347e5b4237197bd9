package org.earslot.ear;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** A word of the trade with the code it has in files, in the interface for programs and in the database. */
public interface Word {

    /** The code: lower case, words joined by underscores. */
    String code();

    /** The constant whose code is {@code code} (exactly), or empty. */
    static <W extends Word> Optional<W> find(W[] words, String code) {
        for (W word : words) {
            if (word.code().equals(code)) {
                return Optional.of(word);
            }
        }
        return Optional.empty();
    }

    /** All codes in their order, for messages that name what is allowed. */
    static List<String> codes(Word[] words) {
        return Arrays.stream(words).map(Word::code).toList();
    }
}
