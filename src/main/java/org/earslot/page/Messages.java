package org.earslot.page;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.earslot.ear.Word;
import org.springframework.context.MessageSource;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.context.i18n.LocaleContext;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.context.support.DefaultMessageSourceResolvable;
import org.springframework.stereotype.Component;

/** Everything that people read, from {@code messages/*.properties}, in the reader's language; outside a request in English. */
@Component
public class Messages {

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMM yyyy", Locale.ENGLISH);
    static final String REMEDY = ".remedy";

    private final MessageSource source;

    public Messages(MessageSource source) {
        this.source = source;
    }

    /** The text of {@code key}; a missing one reads as its key. */
    public String say(String key, Object... arguments) {
        return find(key, arguments).orElse(key);
    }

    /** The text of what names its own key and arguments. */
    public String say(MessageSourceResolvable line) {
        return source.getMessage(line, locale());
    }

    /** Why something was not done, and what to do if that has a text of its own. */
    public String say(Reason reason) {
        String remedy = say(reason.remedy());
        return say(reason.fact()) + (remedy.isEmpty() ? "" : " " + remedy);
    }

    /** Each reason by itself. */
    public List<String> say(List<? extends Reason> reasons) {
        return reasons.stream().map(this::say).toList();
    }

    /** A text to be said later, in the reader's language; a missing one reads as its key. */
    public static MessageSourceResolvable text(String key, Object... arguments) {
        return text(new String[] {key}, arguments);
    }

    /** Likewise the first of these keys that has one. */
    static MessageSourceResolvable text(String[] keys, Object... arguments) {
        return new DefaultMessageSourceResolvable(keys, arguments, keys[0]);
    }

    /** A value as an argument: a word of the trade has a text of its own; a number stays one, for words chosen by it. */
    static Object argument(Object value) {
        if (value instanceof LocalDate date) {
            return DAY.format(date);
        }
        if (value instanceof Word word) {
            return text(key(word));
        }
        return value instanceof Number ? value : String.valueOf(value);
    }

    /** The text of {@code key}, or empty if there is none. */
    public Optional<String> find(String key, Object... arguments) {
        return Optional.ofNullable(source.getMessage(key, arguments, null, locale()))
                .filter(found -> !found.equals(key));
    }

    /** A word of the trade: the text of its type and its code, {@code Method.microsuction}. */
    public String word(Word word) {
        return say(key(word));
    }

    /** Words of the trade in their order, with commas. */
    public String words(Collection<? extends Word> words) {
        return words.stream().map(this::word).collect(Collectors.joining(", "));
    }

    /** The key of a word of the trade. */
    public static String key(Word word) {
        Class<?> type = word instanceof Enum<?> one ? one.getDeclaringClass() : word.getClass();
        return type.getSimpleName() + "." + word.code();
    }

    private static Locale locale() {
        LocaleContext reader = LocaleContextHolder.getLocaleContext();
        Locale theirs = reader == null ? null : reader.getLocale();
        return theirs == null ? Locale.UK : theirs;
    }
}
