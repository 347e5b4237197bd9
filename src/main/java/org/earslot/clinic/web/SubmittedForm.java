package org.earslot.clinic.web;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.util.MultiValueMap;

/**
 * One of the page's many small forms as it was typed, to be shown again if something in it is wrong.
 *
 * @param section which part of the page
 * @param id the row it belongs to, empty for the form that adds one
 */
public record SubmittedForm(String section, String id, Map<String, List<String>> values) {

    /** Nothing typed. */
    static final SubmittedForm NOTHING = new SubmittedForm("", "", Map.of());

    static SubmittedForm in(String section, String id, MultiValueMap<String, String> given) {
        return new SubmittedForm(section, id, given);
    }

    /** Whether it is the form of that section and row. */
    public boolean is(String otherSection, @Nullable Object row) {
        return section.equals(otherSection) && id.equals(row == null ? "" : row.toString());
    }

    /** What was typed in a field of that form, or {@code otherwise} where another form or none was sent. */
    public @Nullable Object or(String otherSection, @Nullable Object row, String field, @Nullable Object otherwise) {
        return is(otherSection, row) ? get(field) : otherwise;
    }

    /** Whether a tick was set in that form, or {@code otherwise} if another form or none was sent. */
    public boolean ticked(String otherSection, @Nullable Object row, String field, String value, boolean otherwise) {
        return is(otherSection, row) ? all(field).contains(value) : otherwise;
    }

    /** The first value of a field, empty if none. */
    public String get(String field) {
        List<String> given = values.getOrDefault(field, List.of());
        return given.isEmpty() || given.get(0) == null ? "" : given.get(0);
    }

    List<String> all(String field) {
        return values.getOrDefault(field, List.of());
    }

    boolean ticked(String field) {
        return !get(field).isEmpty();
    }
}
