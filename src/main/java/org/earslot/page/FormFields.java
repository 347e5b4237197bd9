package org.earslot.page;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.earslot.ear.Answer;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.BeanUtils;

/** The fields of a form with what was typed, right or wrong, so that it is shown again as it was given. */
public final class FormFields {

    private final Map<String, List<String>> values = new LinkedHashMap<>();

    /** A form in which nothing is filled in. */
    public FormFields() {}

    /** The form as it came in. */
    public FormFields(Map<String, List<String>> typed) {
        typed.forEach((field, given) -> values.put(field, new ArrayList<>(given)));
    }

    /** A form each field of which came in once. */
    public static FormFields single(Map<String, String> typed) {
        FormFields form = new FormFields();
        typed.forEach(form::add);
        return form;
    }

    /** What a field holds, the first if it holds several; empty for nothing. */
    public String get(String field) {
        List<String> given = all(field);
        return given.isEmpty() ? "" : given.get(0);
    }

    /** Everything that a field holds. */
    public List<String> all(String field) {
        return values.getOrDefault(field, List.of());
    }

    /** Every field with all that it holds, without these. */
    public Map<String, List<String>> allBut(Collection<String> left) {
        Map<String, List<String>> all = new LinkedHashMap<>(values);
        all.keySet().removeAll(left);
        return all;
    }

    /** Whether a field holds {@code value}, as the ticked ones of a list do. */
    public boolean has(String field, String value) {
        return all(field).contains(value);
    }

    /** Fills a field in; null leaves it as it is. */
    public void put(String field, @Nullable Object value) {
        if (value != null) {
            values.put(field, new ArrayList<>(List.of(text(value))));
        }
    }

    /** Adds a value to a field that may hold several. */
    public void add(String field, String value) {
        values.computeIfAbsent(field, name -> new ArrayList<>()).add(value);
    }

    /** Empties a field. */
    public void clear(String field) {
        values.remove(field);
    }

    /** Fills in every component of a record that holds one value, under its own name. */
    public void put(Record shown) {
        put(shown, UnaryOperator.identity());
    }

    /**
     * Fills in every component of a record that holds one value.
     *
     * @param field the name of the field for that of a component
     */
    public void put(Record shown, UnaryOperator<String> field) {
        Records.values(shown).forEach((name, value) -> {
            if (value != null && BeanUtils.isSimpleValueType(value.getClass())) {
                put(field.apply(name), value);
            }
        });
    }

    /** Every field that holds something, with the first of it. */
    public Map<String, String> filled() {
        Map<String, String> filled = new LinkedHashMap<>();
        values.keySet().forEach(field -> filled.put(field, get(field)));
        return filled;
    }

    private static String text(Object value) {
        if (value instanceof Boolean given) {
            return (given ? Answer.YES : Answer.NO).code();
        }
        return value instanceof Word word ? word.code() : value.toString();
    }
}
