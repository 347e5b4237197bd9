package org.earslot.clinic;

import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

/** The names of the fields that differ, for the audit trail: never their values. */
public final class ChangedFields {

    private ChangedFields() {}

    /** Their names in the record's order; none if both are equal. */
    public static <T extends Record> List<String> between(T before, T after) {
        List<String> names = new ArrayList<>();
        try {
            for (RecordComponent field : before.getClass().getRecordComponents()) {
                Object was = field.getAccessor().invoke(before);
                if (!Objects.equals(was, field.getAccessor().invoke(after))) {
                    names.add(field.getName());
                }
            }
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException("every public record has accessors", e);
        }
        return List.copyOf(names);
    }
}
