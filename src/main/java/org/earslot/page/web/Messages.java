package org.earslot.page.web;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.YearMonth;
import java.util.Arrays;
import java.util.Collection;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** The wording of refusals. */
@Component
class Messages {

    private final MessageSource messages;

    Messages(MessageSource messages) {
        this.messages = messages;
    }

    /** The wording of {@code key}; a missing one reads as its key. */
    String say(String key, Object... arguments) {
        String found = messages.getMessage(key, arguments, key, LocaleContextHolder.getLocale());
        return found == null ? key : found;
    }

    /** What a value of {@code type} may look like. */
    String allowed(@Nullable Class<?> type) {
        if (type == null) {
            return say("page.allowed.other");
        }
        if (type.isEnum()) {
            return Arrays.stream(type.getEnumConstants())
                    .map(constant -> ((Enum<?>) constant).name().toLowerCase(java.util.Locale.ROOT))
                    .collect(Collectors.joining(", "));
        }
        return say("page.allowed." + kind(type));
    }

    private static String kind(Class<?> type) {
        if (type == LocalDate.class) {
            return "date";
        } else if (type == LocalDateTime.class) {
            return "dateTime";
        } else if (type == LocalTime.class) {
            return "time";
        } else if (type == YearMonth.class) {
            return "month";
        } else if (type == UUID.class) {
            return "id";
        } else if (type == Boolean.class || type == boolean.class) {
            return "boolean";
        } else if (Arrays.asList(int.class, long.class, Integer.class, Long.class)
                .contains(type)) {
            return "whole";
        } else if (type.isPrimitive() || Number.class.isAssignableFrom(type)) {
            return "number";
        } else if (type.isArray() || Collection.class.isAssignableFrom(type)) {
            return "list";
        } else if (type == String.class) {
            return "text";
        }
        return "other";
    }
}
