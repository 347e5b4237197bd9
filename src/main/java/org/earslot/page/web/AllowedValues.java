package org.earslot.page.web;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.YearMonth;
import java.util.Arrays;
import java.util.Collection;
import java.util.Locale;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.page.Messages;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSourceResolvable;

/** Says what a value may look like. */
final class AllowedValues {

    private AllowedValues() {}

    /** What a value of {@code type} may look like. */
    static MessageSourceResolvable of(@Nullable Class<?> type) {
        if (type == null) {
            return Messages.text("page.allowed.other");
        }
        if (type.isEnum()) {
            return Messages.text(
                    "page.said",
                    Arrays.stream(type.getEnumConstants())
                            .map(constant -> ((Enum<?>) constant).name().toLowerCase(Locale.ROOT))
                            .collect(Collectors.joining(", ")));
        }
        return Messages.text("page.allowed." + kind(type));
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
