package org.earslot.referral;

import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** Several words of one type in one column, joined by semicolons; null where there is none. */
final class Codes {

    private Codes() {}

    static @Nullable String joined(Collection<? extends Word> words) {
        return words.isEmpty()
                ? null
                : words.stream().map(Word::code).sorted().distinct().collect(Collectors.joining(";"));
    }

    static <W> List<W> read(@Nullable String joined, Function<String, Optional<W>> find) {
        return joined == null
                ? List.of()
                : Arrays.stream(joined.split(";"))
                        .flatMap(code -> find.apply(code).stream())
                        .toList();
    }
}
