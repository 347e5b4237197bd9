package org.earslot.clinic;

import jakarta.persistence.AttributeConverter;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Stores a word of the trade in the database by its code. */
public abstract class WordCode<W extends Word> implements AttributeConverter<@Nullable W, @Nullable String> {

    private static final Logger LOG = LoggerFactory.getLogger(WordCode.class);

    private final W[] words;

    protected WordCode(W[] words) {
        this.words = words;
    }

    @Override
    public @Nullable String convertToDatabaseColumn(@Nullable W word) {
        return word == null ? null : word.code();
    }

    @Override
    public @Nullable W convertToEntityAttribute(@Nullable String code) {
        return code == null ? null : Word.find(words, code).orElseGet(() -> unknown(code));
    }

    /** One record with a code of another release must not take a page away: the code counts as not recorded. */
    protected @Nullable W unknown(String code) {
        LOG.warn("{} does not know the code {}", getClass().getSimpleName(), code);
        return null;
    }
}
