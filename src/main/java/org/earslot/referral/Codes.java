package org.earslot.referral;

import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.ear.UnknownCode;
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

    /** The same with codes that are stored although they are not known. */
    static @Nullable String joined(Collection<? extends Word> words, Collection<UnknownCode> unknown) {
        String known = joined(words);
        String others =
                unknown.stream().map(UnknownCode::code).sorted().distinct().collect(Collectors.joining(";"));
        return others.isEmpty() ? known : known == null ? others : known + ";" + others;
    }

    /** Those of the codes that are none of {@code words}, in their order. */
    static List<UnknownCode> unknown(@Nullable String joined, Word[] words) {
        return joined == null ? List.of() : UnknownCode.among(Arrays.stream(joined.split(";")), words);
    }

    static <W> List<W> read(@Nullable String joined, Function<String, Optional<W>> find) {
        return joined == null
                ? List.of()
                : Arrays.stream(joined.split(";"))
                        .flatMap(code -> find.apply(code).stream())
                        .toList();
    }
}
